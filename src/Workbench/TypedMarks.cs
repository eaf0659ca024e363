using System.Globalization;
using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Workbench;

/// <summary>What is wrong with something typed.</summary>
/// <param name="Field">Where: <c>mounts[0].left.edge</c>, <c>resolution</c>, <c>distance</c>; empty for the whole.</param>
/// <param name="Text">What is wrong and what would be right.</param>
public sealed record TypedFault(string Field, string Text);

/// <summary>One side of the target as typed: repeats after a semicolon, <c>14,5; 14.7</c>.</summary>
/// <param name="Edge">Edge bevel's mark.</param>
/// <param name="Primary">Primary grind's.</param>
/// <param name="Micro">Micro-bevel's.</param>
public sealed record TypedSide(string? Edge, string? Primary, string? Micro);

/// <summary>One placing as typed.</summary>
/// <param name="Tip">"up", "down" or null.</param>
/// <param name="Left">Left of the target.</param>
/// <param name="Right">Right of the target.</param>
public sealed record TypedMount(string? Tip, TypedSide Left, TypedSide Right)
{
    /// <summary>True where nothing was typed.</summary>
    public bool IsEmpty => ((string?[])[Left.Edge, Left.Primary, Left.Micro, Right.Edge, Right.Primary, Right.Micro]).All(string.IsNullOrWhiteSpace);
}

/// <summary>Marks read by eye as a person typed them.</summary>
/// <param name="Scale">bevel, deflection or target-mm.</param>
/// <param name="Resolution">Finest step told apart: degrees, or mm on a millimetre scale.</param>
/// <param name="PrintedForMm">The distance a degree scale was printed for, as typed; empty for not known.</param>
/// <param name="Mounts">The placings; empty ones are left out.</param>
public sealed record TypedMarks(string Scale, string? Resolution, string? PrintedForMm, IReadOnlyList<TypedMount> Mounts)
{
    private const int MostRepeats = 40;

    /// <summary>The same in our marks format, or what is wrong with it.</summary>
    /// <param name="kind">Kind of the piece.</param>
    /// <param name="faults">All that is wrong.</param>
    public string? ToJson(PieceKind kind, out IReadOnlyList<TypedFault> faults)
    {
        List<TypedFault> found = [];
        JsonObject document = new() { ["formatVersion"] = 1, ["scale"] = Scale };
        bool millimetres = Scale == "target-mm";
        if (One(Resolution, "resolution", found, required: true) is { } step)
        {
            if (step > 0 && step <= 20)
                document[millimetres ? "resolutionMm" : "resolutionDeg"] = step;
            else
                found.Add(new("resolution", $"'{Resolution}' cannot be the finest step you can tell apart; one above 0 and up to 20, such as 0.5, would be right"));
        }

        if (!millimetres && One(PrintedForMm, "printedFor", found, required: false) is { } printed)
        {
            if (printed is >= 5 and <= 5000)
                document["scaleDistanceMm"] = printed;
            else
                found.Add(new("printedFor", $"'{PrintedForMm}' mm is no distance from edge to scale; 5 to 5000 mm would be right"));
        }

        document["kind"] = kind.Key();
        JsonArray mounts = [];
        document["mounts"] = mounts;
        int tipless = 0;
        for (int i = 0; i < Mounts.Count; i++)
        {
            TypedMount mount = Mounts[i];
            if (mount.IsEmpty)
                continue;
            JsonObject made = [];
            if (mount.Tip is { Length: > 0 } tip)
                made["tip"] = tip;
            else
                tipless++;
            made["left"] = Side(mount.Left, FormattableString.Invariant($"mounts[{i}].left"), found);
            made["right"] = Side(mount.Right, FormattableString.Invariant($"mounts[{i}].right"), found);
            mounts.Add((JsonNode)made);
        }

        if (mounts.Count == 0)
            found.Add(new("mounts[0].left.edge", "no mark was typed; where the edge's mark begins on the left or right of the target would be right"));
        if (mounts.Count > 1 && tipless > 0)
            found.Add(new("mounts[0].tip", "with more than one placing each must say where the tip was; up or down would be right"));
        faults = found;
        return found.Count > 0 ? null : document.ToJsonString(new System.Text.Json.JsonSerializerOptions { WriteIndented = true });
    }

    /// <summary>Which typed field a message of the reader or of Core is about: it begins with the path.</summary>
    public static TypedFault Locate(string message)
    {
        string plain = message.StartsWith("$.", StringComparison.Ordinal) ? message[2..] : message;
        string path = plain.Split([':', ' '], 2)[0];
        int repeat = path.LastIndexOf('[');
        bool mark = path.StartsWith("mounts[", StringComparison.Ordinal);
        if (mark && repeat > "mounts".Length)
            path = path[..repeat];
        return path switch
        {
            "resolutionDeg" or "resolutionMm" => new("resolution", message),
            "scaleDistanceMm" => new("printedFor", message),
            _ when path.StartsWith("instrument", StringComparison.Ordinal) => new("distance", message),
            _ => mark && path.Contains('.', StringComparison.Ordinal) ? new(path, message) : new("", message),
        };
    }

    /// <summary>Reads repeats: <c>14,5; 14.7</c>, or blanks between them.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="why">What is wrong; null where nothing is.</param>
    public static IReadOnlyList<double> Repeats(string? text, out string? why)
    {
        why = null;
        string plain = (text ?? "").Trim();
        if (plain.Length == 0)
            return [];
        // A blank parts numbers only where neither a semicolon nor a fraction says otherwise.
        string[] parts = plain.Contains(';', StringComparison.Ordinal)
            ? plain.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            : plain.Contains('/', StringComparison.Ordinal) ? [plain] : plain.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        if (parts.Length > MostRepeats)
        {
            why = string.Create(CultureInfo.InvariantCulture, $"{parts.Length} repeats; at most {MostRepeats} would be right");
            return [];
        }

        List<double> numbers = [];
        foreach (string part in parts)
        {
            switch (TypedNumber.Parse(part.TrimEnd('°')))
            {
                case Typed<double>.Value value:
                    numbers.Add(value.Of);
                    break;
                case Typed<double>.Ambiguous asked:
                    why = asked.Question;
                    return [];
                case Typed<double>.Refused refused:
                    why = $"{refused.Why}; repeats stand apart with a semicolon: 14.5; 14.7";
                    return [];
            }
        }

        return numbers;
    }

    private static double? One(string? text, string field, List<TypedFault> faults, bool required)
    {
        if (string.IsNullOrWhiteSpace(text) && !required)
            return null;
        switch (TypedNumber.Parse(text))
        {
            case Typed<double>.Value value:
                return value.Of;
            case Typed<double>.Ambiguous asked:
                faults.Add(new(field, asked.Question));
                return null;
            case Typed<double>.Refused refused:
                faults.Add(new(field, refused.Why));
                return null;
            default:
                throw new InvalidOperationException("Not a member of the closed set.");
        }
    }

    private static JsonObject Side(TypedSide side, string path, List<TypedFault> faults)
    {
        JsonObject made = [];
        foreach ((string role, string? text) in (ReadOnlySpan<(string, string?)>)[("edge", side.Edge), ("primary", side.Primary), ("micro", side.Micro)])
        {
            IReadOnlyList<double> numbers = Repeats(text, out string? why);
            if (why is not null)
                faults.Add(new($"{path}.{role}", why));
            else if (numbers.Count > 0)
                made[role] = new JsonArray([.. numbers.Select(n => (JsonNode)JsonValue.Create(n))]);
        }

        return made;
    }

    /// <summary>All that went into a reading by eye, to be stored with it.</summary>
    public static string Inputs(string marksJson, string? instrumentJson) => new JsonObject
    {
        ["marks"] = JsonNode.Parse(marksJson),
        ["instrument"] = InstrumentOnBench.Node(instrumentJson),
    }.ToJsonString();
}
