using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Marks;
using Whetwright.Darkroom.Mats;

namespace Whetwright.Darkroom;

/// <summary>The small command line of the darkroom.</summary>
internal static class CommandLine
{
    private const string Usage = """
        darkroom marks --difficulty easy|normal|hard --seed N --count K --width PX --out DIR [--only truth|lit|pair|all]
        darkroom mats  --difficulty easy|normal|hard --seed N --count K --width PX --out DIR [--only truth|lit|all] [--place P] [--mat ruled|plain|either]
        Renders photographs of known truth: one folder per seed, seeds N to N + K - 1.
        """;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    public static int Run(string[] args)
    {
        try
        {
            if (args.Length == 0 || args[0] is "--help" or "-h")
            {
                Console.WriteLine(Usage);
                return args.Length == 0 ? 2 : 0;
            }

            Dictionary<string, string> options = Options(args);
            switch (args[0])
            {
                case "marks":
                    Marks(options);
                    return 0;
                case "mats":
                    Mats(options);
                    return 0;
                default:
                    throw new FormatException($"'{args[0]}' is not known here; use marks or mats.");
            }
        }
        catch (FormatException wrong)
        {
            Console.Error.WriteLine(wrong.Message);
            Console.Error.WriteLine(Usage);
            return 2;
        }
    }

    private static void Marks(Dictionary<string, string> options)
    {
        Difficulty difficulty = Enum.TryParse(Take(options, "difficulty", "normal"), ignoreCase: true, out Difficulty d)
            ? d : throw new FormatException("--difficulty must be easy, normal or hard.");
        int seed = Whole(options, "seed", 1, 0, 100_000_000);
        int count = Whole(options, "count", 1, 1, 10_000);
        int width = Whole(options, "width", 1600, 400, 6000);
        string only = Take(options, "only", "all");
        if (only is not ("truth" or "lit" or "pair" or "all"))
            throw new FormatException($"--only is '{only}'; it must be truth, lit, pair or all.");
        string folder = Take(options, "out", null);
        Finish(options);
        Directory.CreateDirectory(folder);
        for (int i = 0; i < count; i++)
        {
            MarkScene scene = MarkScene.Generate(difficulty, seed + i);
            if (i == 0)
                WriteText(Path.Combine(folder, "target.json"), Describe(scene.Target));
            string to = Path.Combine(folder, $"{difficulty.ToString().ToLowerInvariant()}_{seed + i}");
            Directory.CreateDirectory(to);
            MarkPhotographs photographs = new(scene, width);
            if (only is not "truth")
                Write(to, "photo", photographs, PhotoKind.Lit);
            if (only is "pair" or "all")
                Write(to, "photo_dark", photographs, PhotoKind.Dark);
            if (only == "all")
            {
                Write(to, "photo_off", photographs, PhotoKind.Off);
                Write(to, "photo_turned", photographs.Turned, PhotoKind.Lit);
                Write(to, "photo_turned_dark", photographs.Turned, PhotoKind.Dark);
            }

            WriteText(Path.Combine(to, "input.json"), photographs.Input());
            WriteText(Path.Combine(to, "truth.json"), photographs.Truth());
            Console.Error.WriteLine(to);
        }
    }

    private static void Mats(Dictionary<string, string> options)
    {
        Difficulty difficulty = Enum.TryParse(Take(options, "difficulty", "normal"), ignoreCase: true, out Difficulty d)
            ? d : throw new FormatException("--difficulty must be easy, normal or hard.");
        int seed = Whole(options, "seed", 1, 0, 100_000_000);
        int count = Whole(options, "count", 1, 1, 10_000);
        int width = Whole(options, "width", 2048, 400, 6000);
        string only = Take(options, "only", "all");
        if (only is not ("truth" or "lit" or "all"))
            throw new FormatException($"--only is '{only}'; it must be truth, lit or all.");
        int place = Whole(options, "place", 0, 0, 10_000);
        string paper = Take(options, "mat", "ruled");
        if (paper is not ("ruled" or "plain" or "either"))
            throw new FormatException($"--mat is '{paper}'; it must be ruled, plain or either.");
        string folder = Take(options, "out", null);
        Finish(options);
        Directory.CreateDirectory(folder);
        for (int i = 0; i < count; i++)
        {
            MatScene scene = MatScene.Generate(difficulty, seed + i).Placed(place);
            scene = paper == "either" ? scene : scene with { Grid = paper == "ruled" };
            if (i == 0)
                WriteText(Path.Combine(folder, "mat.json"), Describe(scene.Mat));
            string to = Path.Combine(folder, $"{difficulty.ToString().ToLowerInvariant()}_{seed + i}{(place == 0 ? "" : $"_place{place}")}");
            Directory.CreateDirectory(to);
            MatPhotographs photographs = new(scene, width);
            if (only != "truth")
                File.WriteAllBytes(Path.Combine(to, "photo.jpg"), photographs.Jpeg());
            if (only == "all")
                File.WriteAllBytes(Path.Combine(to, "photo2.jpg"), photographs.Jpeg(second: true));
            WriteText(Path.Combine(to, "input.json"), photographs.Input());
            WriteText(Path.Combine(to, "truth.json"), photographs.Truth());
            Console.Error.WriteLine(to);
        }
    }

    private static JsonObject Describe(MatSheet sheet) => new()
    {
        ["formatVersion"] = 1,
        ["paper"] = sheet.Paper,
        ["sizeMm"] = new JsonArray(sheet.SizeMm.X, sheet.SizeMm.Y),
        ["fiducialDictionary"] = sheet.FiducialDictionary,
        ["fiducials"] = Fiducials(sheet.Fiducials),
    };

    private static JsonObject Describe(TargetSheet sheet) => new()
    {
        ["formatVersion"] = 1,
        ["paper"] = sheet.Paper,
        ["sizeMm"] = new JsonArray(sheet.SizeMm.X, sheet.SizeMm.Y),
        ["zeroMm"] = new JsonArray(sheet.ZeroMm.X, sheet.ZeroMm.Y),
        ["spotFieldMm"] = new JsonArray(sheet.SpotFieldMm.LeftMm, sheet.SpotFieldMm.TopMm, sheet.SpotFieldMm.RightMm, sheet.SpotFieldMm.BottomMm),
        ["distanceMm"] = sheet.DistanceMm,
        ["fiducialDictionary"] = sheet.FiducialDictionary,
        ["fiducials"] = Fiducials(sheet.Fiducials),
    };

    private static JsonArray Fiducials(IEnumerable<SheetFiducial> fiducials) => new(
        [.. fiducials.Select(f => new JsonObject { ["id"] = f.Id, ["cornersMm"] = new JsonArray([.. f.CornersMm.Select(c => new JsonArray(c.X, c.Y))]) })]);

    private static void Write(string folder, string name, MarkPhotographs photographs, PhotoKind kind) =>
        File.WriteAllBytes(Path.Combine(folder, name + ".jpg"), photographs.Jpeg(kind));

    private static void WriteText(string path, JsonObject json) => File.WriteAllText(path, json.ToJsonString(Indented) + "\n");

    private static Dictionary<string, string> Options(string[] args)
    {
        Dictionary<string, string> options = new(StringComparer.Ordinal);
        for (int i = 1; i < args.Length; i += 2)
        {
            if (!args[i].StartsWith("--", StringComparison.Ordinal) || i + 1 >= args.Length)
                throw new FormatException($"'{args[i]}' is not an option with a value.");
            options[args[i][2..]] = args[i + 1];
        }

        return options;
    }

    private static string Take(Dictionary<string, string> options, string name, string? otherwise) =>
        options.Remove(name, out string? value) ? value : otherwise ?? throw new FormatException($"--{name} is missing.");

    private static int Whole(Dictionary<string, string> options, string name, int otherwise, int least, int most)
    {
        string text = Take(options, name, otherwise.ToString(CultureInfo.InvariantCulture));
        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value >= least && value <= most
            ? value : throw new FormatException($"--{name} is '{text}'; it must be a whole number from {least} to {most}.");
    }

    private static void Finish(Dictionary<string, string> options)
    {
        if (options.Count > 0)
            throw new FormatException($"--{options.Keys.First()} is not known here.");
    }
}
