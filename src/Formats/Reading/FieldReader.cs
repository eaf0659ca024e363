using System.Text.Json;
using Whetwright.Core.Quantities;

namespace Whetwright.Formats.Reading;

/// <summary>
/// Reads the fields of one JSON object strictly: unknown and repeated keys, wrong types, values that are not finite or out of
/// range each become a <see cref="FormatError"/> with its path; reading goes on, so that all faults are told at once.
/// </summary>
/// <remarks>Numbers may be JSON numbers or typed texts such as <c>"12,5"</c>, <c>"3/8 in"</c>, <c>"12°30′"</c>.</remarks>
public sealed class FieldReader
{
    private readonly Dictionary<string, JsonElement> fields = new(StringComparer.Ordinal);
    private readonly List<FormatError> faults;

    private FieldReader(JsonElement element, string path, List<FormatError> faults, IReadOnlyList<string> known)
    {
        (Path, this.faults) = (path, faults);
        if (element.ValueKind != JsonValueKind.Object)
        {
            Fault(path, element, $"an object {{ … }} would be right, with {Names(known)}");
            return;
        }

        foreach (JsonProperty property in element.EnumerateObject())
        {
            string place = $"{path}.{property.Name}";
            if (!known.Contains(property.Name, StringComparer.Ordinal))
                faults.Add(new(place, "", $"unknown key; did you mean {NearestName.To(property.Name, known)}? Known here: {Names(known)}"));
            else if (!fields.TryAdd(property.Name, property.Value))
                faults.Add(new(place, "", "the key stands here twice; keep one"));
        }
    }

    /// <summary>Where this object stands.</summary>
    public string Path { get; }

    /// <summary>Parses a whole document and reads its root object.</summary>
    /// <param name="json">The text; no comments, no trailing commas.</param>
    /// <param name="known">Keys that the root may have; <c>formatVersion</c> and <c>note</c> are always allowed.</param>
    /// <param name="read">Makes the value; what it returns counts only where no fault was found.</param>
    public static FormatOutcome<T> Document<T>(string json, IReadOnlyList<string> known, Func<FieldReader, T?> read)
        where T : class
    {
        List<FormatError> errors = [];
        try
        {
            using var document = JsonDocument.Parse(json);
            var root = new FieldReader(document.RootElement, "$", errors, [.. known, "formatVersion", "note"]);
            root.CheckVersion();
            _ = root.Text("note");
            T? value = errors.Count == 0 || document.RootElement.ValueKind == JsonValueKind.Object ? read(root) : null;
            if (errors.Count == 0 && value is null)
                errors.Add(new("$", "", "nothing usable in the file"));
            return errors.Count > 0 ? new FormatOutcome<T>.Refused(errors) : new FormatOutcome<T>.Read(value!);
        }
        catch (JsonException e)
        {
            long line = (e.LineNumber ?? 0) + 1, column = (e.BytePositionInLine ?? 0) + 1;
            return new FormatOutcome<T>.Refused([new("$", "", FormattableString.Invariant(
                $"not valid JSON at line {line}, column {column}: {Reason(json)} (plain JSON without comments, NaN or trailing commas would be right)"))]);
        }
    }

    /// <summary>True where the key is there and not null.</summary>
    public bool Has(string key) => fields.TryGetValue(key, out JsonElement e) && e.ValueKind != JsonValueKind.Null;

    /// <summary>Adds a fault about a field of this object.</summary>
    public void Fault(string key, string text) => Fault($"{Path}.{key}", fields.TryGetValue(key, out JsonElement e) ? e : null, text);

    /// <summary>A length in millimetres, or null where the key is missing or null.</summary>
    public double? LengthMm(string key, Limits limits) =>
        Optional(key, e => LengthOf(e, $"{Path}.{key}", limits));

    /// <summary>A length in millimetres that must be there; NaN after a fault.</summary>
    public double RequiredLengthMm(string key, Limits limits) => Required(key, limits.ToText("mm"), LengthMm(key, limits));

    /// <summary>A length, or null where the key is missing or null.</summary>
    public Length? Length(string key, Limits limits) => LengthMm(key, limits) is { } mm ? Core.Quantities.Length.FromMillimetres(mm) : null;

    /// <summary>True where the key holds a list.</summary>
    public bool IsList(string key) => fields.TryGetValue(key, out JsonElement e) && e.ValueKind == JsonValueKind.Array;

    /// <summary>True where the key holds an object.</summary>
    public bool IsObject(string key) => fields.TryGetValue(key, out JsonElement e) && e.ValueKind == JsonValueKind.Object;

    /// <summary>How many items the list has; −1 where it is none.</summary>
    public int CountOf(string key) => IsList(key) ? fields[key].GetArrayLength() : -1;

    /// <summary>An angle in degrees, or null where the key is missing or null.</summary>
    public double? AngleDeg(string key, Limits limits) =>
        Optional(key, e => AngleOf(e, $"{Path}.{key}", limits));

    /// <summary>An angle in degrees that must be there; NaN after a fault.</summary>
    public double RequiredAngleDeg(string key, Limits limits) => Required(key, limits.ToText("°"), AngleDeg(key, limits));

    /// <summary>A plain number, or null where the key is missing or null.</summary>
    public double? Number(string key, Limits limits, string unit = "") =>
        Optional(key, e => Typed(e, $"{Path}.{key}", limits, unit, TypedNumber.Parse));

    /// <summary>A text, or null where the key is missing or null.</summary>
    public string? Text(string key)
    {
        if (!Has(key))
            return null;
        JsonElement e = fields[key];
        if (e.ValueKind == JsonValueKind.String)
            return e.GetString();
        Fault(key, "a text in quotes would be right");
        return null;
    }

    /// <summary>One of a closed set of words, or null where the key is missing or null.</summary>
    public string? Word(string key, params string[] words)
    {
        string? text = Text(key);
        if (text is null || words.Contains(text, StringComparer.Ordinal))
            return text;
        Fault(key, $"did you mean \"{NearestName.To(text, words)}\"? One of {string.Join(", ", words.Select(w => $"\"{w}\""))} would be right");
        return null;
    }

    /// <summary>As <see cref="Word"/>, where the key must be there.</summary>
    public string? RequiredWord(string key, params string[] words)
    {
        if (!Has(key))
            Fault(key, $"missing; one of {string.Join(", ", words.Select(w => $"\"{w}\""))} would be right");
        return Word(key, words);
    }

    /// <summary>True or false, or null where the key is missing or null.</summary>
    public bool? Flag(string key)
    {
        if (!Has(key))
            return null;
        JsonElement e = fields[key];
        if (e.ValueKind is JsonValueKind.True or JsonValueKind.False)
            return e.GetBoolean();
        Fault(key, "true or false would be right");
        return null;
    }

    /// <summary>A day as yyyy-MM-dd, or null where the key is missing or null.</summary>
    public DateOnly? Day(string key)
    {
        if (Text(key) is not { } text)
            return null;
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture, System.Globalization.DateTimeStyles.None, out DateOnly day))
            return day;
        Fault(key, "a day such as \"2026-11-20\" would be right");
        return null;
    }

    /// <summary>An object, or null where the key is missing or null.</summary>
    public FieldReader? Object(string key, params string[] known) =>
        Has(key) ? new FieldReader(fields[key], $"{Path}.{key}", faults, known) : null;

    /// <summary>A list of objects; empty where the key is missing or null.</summary>
    public IReadOnlyList<FieldReader> Objects(string key, params string[] known) =>
        [.. Items(key, "a list of objects [{ … }, …]").Select((e, i) => new FieldReader(e, FormattableString.Invariant($"{Path}.{key}[{i}]"), faults, known))];

    /// <summary>A list of numbers of the given kind; empty where the key is missing or null.</summary>
    public IReadOnlyList<double> Numbers(string key, Limits limits, string unit = "")
    {
        List<double> values = [];
        int i = 0;
        foreach (JsonElement e in Items(key, "a list of numbers [12.5, …]"))
        {
            string path = FormattableString.Invariant($"{Path}.{key}[{i++}]");
            double? value = unit switch
            {
                "mm" => LengthOf(e, path, limits),
                "°" => AngleOf(e, path, limits),
                _ => Typed(e, path, limits, unit, TypedNumber.Parse),
            };
            if (value is { } v)
                values.Add(v);
        }

        return values;
    }

    /// <summary>True where anything in the document was found wrong so far.</summary>
    public bool HasFaults => faults.Count > 0;

    /// <summary>A list of texts; empty where the key is missing or null.</summary>
    public IReadOnlyList<string> Texts(string key)
    {
        List<string> texts = [];
        int i = 0;
        foreach (JsonElement e in Items(key, "a list of texts [\"…\", …]"))
        {
            string path = FormattableString.Invariant($"{Path}.{key}[{i++}]");
            if (e.ValueKind == JsonValueKind.String)
                texts.Add(e.GetString()!);
            else
                Fault(path, e, "a text in quotes would be right");
        }

        return texts;
    }

    /// <summary>A list of lists of plain numbers; empty where the key is missing or null.</summary>
    public IReadOnlyList<IReadOnlyList<double>> Rows(string key, Limits limits, string unit = "")
    {
        List<IReadOnlyList<double>> rows = [];
        int i = 0;
        foreach (JsonElement row in Items(key, "a list of lists of numbers [[0, 5], …]"))
        {
            string path = FormattableString.Invariant($"{Path}.{key}[{i++}]");
            if (row.ValueKind != JsonValueKind.Array)
            {
                Fault(path, row, "a list of numbers [0, 5, …] would be right");
                continue;
            }

            List<double> values = [];
            int j = 0;
            foreach (JsonElement e in row.EnumerateArray())
            {
                if (Typed(e, FormattableString.Invariant($"{path}[{j++}]"), limits, unit, TypedNumber.Parse) is { } value)
                    values.Add(value);
            }

            rows.Add(values);
        }

        return rows;
    }

    /// <summary>Two lengths in order, [from, to]; null where the key is missing or faulty.</summary>
    public (double From, double To)? RangeMm(string key, Limits limits)
    {
        if (!Has(key))
            return null;
        IReadOnlyList<double> two = Numbers(key, limits, "mm");
        if (fields[key].ValueKind == JsonValueKind.Array && fields[key].GetArrayLength() != 2)
            Fault(key, "two numbers [from, to] would be right");
        else if (two.Count == 2 && two[0] > two[1])
            Fault(key, "the first number must not be above the second");
        return two.Count == 2 ? (two[0], two[1]) : null;
    }

    /// <summary>A list of points [[x, y], …] in millimetres; null where the key is missing.</summary>
    public IReadOnlyList<Point2>? PointsMm(string key)
    {
        if (!Has(key))
            return null;
        List<Point2> points = [];
        int i = 0;
        foreach (JsonElement e in Items(key, "a list of points [[x, y], …]"))
        {
            string path = FormattableString.Invariant($"{Path}.{key}[{i++}]");
            if (e.ValueKind != JsonValueKind.Array || e.GetArrayLength() != 2)
            {
                Fault(path, e, "a point [x, y] in millimetres would be right");
                continue;
            }

            double? x = LengthOf(e[0], path + "[0]", Limits.Any), y = LengthOf(e[1], path + "[1]", Limits.Any);
            if (x is { } px && y is { } py)
                points.Add(new(px, py));
        }

        return points;
    }

    private JsonElement[] Items(string key, string right)
    {
        if (!Has(key))
            return [];
        JsonElement e = fields[key];
        if (e.ValueKind == JsonValueKind.Array)
            return [.. e.EnumerateArray()];
        Fault(key, right + " would be right");
        return [];
    }

    private T? Optional<T>(string key, Func<JsonElement, T?> read)
        where T : struct => Has(key) ? read(fields[key]) : null;

    private double Required(string key, string right, double? value)
    {
        if (!Has(key))
            faults.Add(new($"{Path}.{key}", "", $"missing; a number {right} would be right"));
        return value ?? double.NaN;
    }

    private double? LengthOf(JsonElement e, string path, Limits limits) => Typed(e, path, limits, "mm", t => Core.Quantities.Length.Parse(t) switch
    {
        Typed<Length>.Value v => new Typed<double>.Value(v.Of.Millimetres),
        Typed<Length>.Ambiguous a => new Typed<double>.Ambiguous(a.Text, 0, 0, a.Question),
        Typed<Length>.Refused r => new Typed<double>.Refused(r.Text, r.Why),
        _ => throw new InvalidOperationException(),
    });

    private double? AngleOf(JsonElement e, string path, Limits limits) => Typed(e, path, limits, "°", t => Angle.Parse(t) switch
    {
        Typed<Angle>.Value v => new Typed<double>.Value(Math.Round(v.Of.Degrees, 12)),
        Typed<Angle>.Ambiguous a => new Typed<double>.Ambiguous(a.Text, 0, 0, a.Question),
        Typed<Angle>.Refused r => new Typed<double>.Refused(r.Text, r.Why),
        _ => throw new InvalidOperationException(),
    });

    private double? Typed(JsonElement e, string path, Limits limits, string unit, Func<string?, Typed<double>> parse)
    {
        double value;
        if (e.ValueKind == JsonValueKind.Number && e.TryGetDouble(out double number) && double.IsFinite(number))
            value = number;
        else if (e.ValueKind == JsonValueKind.String)
        {
            switch (parse(e.GetString()))
            {
                case Typed<double>.Value v:
                    value = v.Of;
                    break;
                case Typed<double>.Ambiguous a:
                    Fault(path, e, a.Question);
                    return null;
                case Typed<double>.Refused r:
                    Fault(path, e, r.Why);
                    return null;
                default:
                    throw new InvalidOperationException();
            }
        }
        else
        {
            Fault(path, e, $"a number {limits.ToText(unit)} would be right");
            return null;
        }

        if (limits.Allow(value))
            return value;
        Fault(path, e, $"it must be {limits.ToText(unit)}");
        return null;
    }

    private void CheckVersion()
    {
        if (Has("formatVersion") && !(fields["formatVersion"].ValueKind == JsonValueKind.Number && fields["formatVersion"].TryGetInt32(out int v) && v == FormatVersion.Current))
            Fault("formatVersion", FormattableString.Invariant($"this program reads version {FormatVersion.Current}"));
    }

    private void Fault(string path, JsonElement? e, string text)
    {
        string value = e?.GetRawText() ?? "";
        faults.Add(new(path, value.Length > 60 ? value[..57] + "…" : value, text));
    }

    private static string Names(IReadOnlyList<string> known) => string.Join(", ", known);

    private static string Reason(string json) => string.IsNullOrWhiteSpace(json) ? "the file is empty" : "a character that cannot stand there";
}
