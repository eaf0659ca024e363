using Whetwright.Cli.Commands;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>
/// How far the target stood, photo by photo: a <c>distances.json</c>, or a <c>distances.csv</c> with the header
/// <c>photo,distanceMm,distanceUMm</c>, in the folder of a batch.
/// </summary>
internal static class BatchDistances
{
    private const string Json = "distances.json", Csv = "distances.csv";

    private static readonly string[] Header = ["photo", "distanceMm", "distanceUMm"];

    /// <summary>What is told for each scene that is told anything; empty where the folder has no such file.</summary>
    /// <exception cref="InputRefusedException">A fault in the file, or a name that no photo of the folder has.</exception>
    public static IReadOnlyDictionary<BatchScene, PhotoDistance> In(ITerminal terminal, string folder, IReadOnlyList<BatchScene> scenes)
    {
        string json = Path.Combine(folder, Json), csv = Path.Combine(folder, Csv);
        if (File.Exists(json) && File.Exists(csv))
            throw new InputRefusedException($"{folder} holds both {Json} and {Csv}; one of the two would be right");
        string file = File.Exists(json) ? json : csv;
        if (!File.Exists(file))
            return new Dictionary<BatchScene, PhotoDistance>();
        IReadOnlyList<PhotoDistance> told = file == json ? InputFile.Read(terminal, json, DistancesFormat.Read) : Table(csv);
        Dictionary<BatchScene, PhotoDistance> found = [];
        List<string> faults = [];
        foreach (PhotoDistance one in told)
        {
            BatchScene? scene = scenes.FirstOrDefault(s => Is(s, one.Photo));
            if (scene is null)
                faults.Add($"{file}: {one.Photo} is no photo of this folder; {NearestName.To(one.Photo, scenes.Select(s => s.Name))} would be right, or leave the line out");
            else if (!found.TryAdd(scene, one))
                faults.Add($"{file}: {one.Photo} stands here twice; keep one");
        }

        return faults.Count == 0 ? found : throw new InputRefusedException(faults);
    }

    /// <summary>The choice with the distance of one photo in place of the common one.</summary>
    public static PhotoChoice With(this PhotoChoice choice, PhotoDistance? told)
    {
        if (told is null)
            return choice;
        double mm = told.Distance.Millimetres;
        return choice with
        {
            Distance = MeasuredLength.FromMillimetres(mm, told.Uncertainty?.Millimetres ?? mm * ReadingAssumptions.Default.DistanceRelativeUncertainty),
            DistanceUIsDefault = told.Uncertainty is null,
        };
    }

    private static bool Is(BatchScene scene, string name) =>
        string.Equals(scene.Name, name, StringComparison.Ordinal)
        || string.Equals(Path.GetFileNameWithoutExtension(scene.Name), name, StringComparison.Ordinal)
        || string.Equals(Path.Combine(scene.Name, Path.GetFileName(scene.Files.Lit)), name, StringComparison.Ordinal);

    private static List<PhotoDistance> Table(string file)
    {
        if (new FileInfo(file).Length > InputFile.MostBytes)
            throw new InputRefusedException($"{file}: larger than 16 MB; that is no table of distances");
        string[] lines = File.ReadAllLines(file);
        List<PhotoDistance> read = [];
        List<string> faults = [];
        // With semicolons between the cells the numbers may have decimal commas.
        char between = lines.Length > 0 && lines[0].Contains(';', StringComparison.Ordinal) ? ';' : ',';
        string[] head = lines.Length > 0 ? Cells(lines[0].TrimStart('\uFEFF'), between) : [];
        if (!(head.SequenceEqual(Header, StringComparer.Ordinal) || head.SequenceEqual(Header.Take(2), StringComparer.Ordinal)))
            throw new InputRefusedException($"{file}, line 1: '{(lines.Length > 0 ? lines[0] : "")}'; the header {string.Join(between, Header)} would be right (the last may be left out)");
        for (int i = 1; i < lines.Length; i++)
        {
            if (string.IsNullOrWhiteSpace(lines[i]))
                continue;
            string[] cells = Cells(lines[i], between);
            string at = FormattableString.Invariant($"{file}, line {i + 1}");
            if (cells.Length != head.Length || cells[0].Length == 0)
            {
                faults.Add($"{at}: '{lines[i]}'; {head.Length} cells as in {string.Join(between, head)} would be right");
                continue;
            }

            try
            {
                double mm = TypedOptions.Mm($"{at}, distanceMm", cells[1], DistancesFormat.Distance);
                double? u = cells.Length > 2 && cells[2].Length > 0 ? TypedOptions.Mm($"{at}, distanceUMm", cells[2], Limits.NotNegative) : null;
                read.Add(new(cells[0], Length.FromMillimetres(mm), u is { } v ? Length.FromMillimetres(v) : null));
            }
            catch (InputRefusedException e)
            {
                faults.Add(e.Message);
            }
        }

        return faults.Count == 0 ? read : throw new InputRefusedException(faults);
    }

    private static string[] Cells(string line, char between)
    {
        List<string> cells = [];
        System.Text.StringBuilder cell = new();
        bool quoted = false;
        foreach (char c in line)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == between && !quoted)
                Add(cells, cell);
            else
                cell.Append(c);
        }

        Add(cells, cell);
        return [.. cells];
    }

    private static void Add(List<string> cells, System.Text.StringBuilder cell)
    {
        cells.Add(cell.ToString().Trim());
        cell.Clear();
    }
}
