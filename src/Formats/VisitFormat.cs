using Whetwright.Core.Quantities;
using Whetwright.Core.Visits;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>visit.json: one piece, one visit; paths are relative to the file. Described in docs/formats/visit.schema.json.</summary>
public static class VisitFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["reference", "owner", "date", "blade", "marks", "instrument", "rig", "wish"];

    /// <summary>Keys of the wish.</summary>
    public static IReadOnlyList<string> WishKeys { get; } =
        ["text", "angleDeg", "toleranceDeg", "scoreMm", "chipMm", "until", "microWidthMm", "oldRadiusMm", "advanceMm"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<VisitFile> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static VisitFile? From(FieldReader root)
    {
        string blade = Path(root, "blade"), rig = Path(root, "rig");
        VisitWish wish = new();
        if (root.Object("wish", [.. WishKeys]) is { } w)
        {
            double? radius = w.LengthMm("oldRadiusMm", Limits.Any);
            if (radius is { } r && Math.Abs(r) < 1)
                w.Fault("oldRadiusMm", "1 mm or more (hollow), -1 mm or less (convex), or left out (flat) would be right");
            wish = new()
            {
                Text = w.Text("text"),
                Angle = w.AngleDeg("angleDeg", new Limits(0, 60, Open: true)) is { } angle ? Angle.FromDegrees(angle) : null,
                Tolerance = w.AngleDeg("toleranceDeg", Limits.PositiveTo(20)) is { } t ? Angle.FromDegrees(t) : null,
                ScoreMm = w.RangeMm("scoreMm", Limits.NotNegative),
                ChipMm = w.LengthMm("chipMm", Limits.NotNegative) ?? 0,
                Until = SectionFormat.ReadUntil(w),
                MicroWidthMm = w.LengthMm("microWidthMm", Limits.Positive),
                OldRadiusMm = radius,
                AdvanceMm = w.LengthMm("advanceMm", Limits.Positive),
            };
        }

        return new(blade, rig)
        {
            Marks = root.Text("marks"),
            Instrument = root.Text("instrument"),
            Reference = root.Text("reference"),
            Owner = root.Text("owner"),
            Date = root.Text("date"),
            Note = root.Text("note"),
            Wish = wish,
        };
    }

    private static string Path(FieldReader root, string key)
    {
        string? path = root.Text(key);
        if (!root.Has(key) || path is { Length: 0 })
            root.Fault(key, $"missing; the path of a {key}.json, relative to this file, would be right");
        return path ?? "";
    }
}

/// <summary>What visit.json says.</summary>
/// <param name="Blade">Path of the blade file.</param>
/// <param name="Rig">Path of the rig file.</param>
public sealed record VisitFile(string Blade, string Rig)
{
    /// <summary>Path of the marks file; null where none.</summary>
    public string? Marks { get; init; }

    /// <summary>Path of the instrument file; null where none.</summary>
    public string? Instrument { get; init; }

    /// <summary>Short number of the visit.</summary>
    public string? Reference { get; init; }

    /// <summary>Whose piece it is.</summary>
    public string? Owner { get; init; }

    /// <summary>The day, as it shall be printed.</summary>
    public string? Date { get; init; }

    /// <summary>Free text; samples say here that they are invented.</summary>
    public string? Note { get; init; }

    /// <summary>What is wanted.</summary>
    public VisitWish Wish { get; init; } = new();
}
