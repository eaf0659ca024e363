using Whetwright.Core.Quantities;
using Whetwright.Core.Visits;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>visit.json: one piece, one visit; paths are relative to the file. Described in docs/formats/visit.schema.json.</summary>
public static class VisitFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["reference", "owner", "date", "blade", "marks", "photos", "instrument", "rig", "wish"];

    /// <summary>Keys of the wish.</summary>
    public static IReadOnlyList<string> WishKeys { get; } =
        ["text", "angleDeg", "toleranceDeg", "scoreMm", "chipMm", "until", "microWidthMm", "oldRadiusMm", "advanceMm"];

    /// <summary>Keys of the photographs.</summary>
    public static IReadOnlyList<string> PhotoKeys { get; } =
        ["lit", "dark", "off", "turned", "turnedDark", "target", "tip", "laser", "beam", "form", "distanceMm", "distanceUMm"];

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

        VisitPhotos? photos = Photos(root);
        if (photos is not null && root.Text("marks") is not null)
            root.Fault("photos", "marks are given too; one of the two would be right");
        return new(blade, rig)
        {
            Marks = root.Text("marks"),
            Photos = photos,
            Instrument = root.Text("instrument"),
            Reference = root.Text("reference"),
            Owner = root.Text("owner"),
            Date = root.Text("date"),
            Note = root.Text("note"),
            Wish = wish,
        };
    }

    private static VisitPhotos? Photos(FieldReader root)
    {
        if (root.Object("photos", [.. PhotoKeys]) is not { } p)
            return null;
        string? turned = p.Text("turned"), turnedDark = p.Text("turnedDark");
        if (turnedDark is not null && turned is null)
            p.Fault("turnedDark", "the lit photo of the turned blade is missing; turned beside it would be right");
        double? distance = p.LengthMm("distanceMm", new Limits(5, 5000));
        return new(Path(p, "lit", "photo, JPEG or PNG"), Path(p, "target"))
        {
            Dark = p.Text("dark"),
            Off = p.Text("off"),
            Turned = turned,
            TurnedDark = turnedDark,
            Tip = p.Word("tip", "up", "down"),
            Laser = p.Word("laser", "red", "green"),
            Beam = p.Word("beam", "dot", "line"),
            Form = p.Word("form", "flat", "convex", "hollow"),
            DistanceMm = distance,
            DistanceUMm = p.LengthMm("distanceUMm", Limits.NotNegative),
        };
    }

    private static string Path(FieldReader root, string key, string? what = null)
    {
        string? path = root.Text(key);
        if (!root.Has(key) || path is { Length: 0 })
            root.Fault(key, $"missing; the path of a {what ?? key + ".json"}, relative to this file, would be right");
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

    /// <summary>Photographs in place of marks; null where none.</summary>
    public VisitPhotos? Photos { get; init; }

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

/// <summary>Photographs of the laser's marks, as visit.json names them.</summary>
/// <param name="Lit">Room light on, laser on.</param>
/// <param name="Target">Path of the target file.</param>
public sealed record VisitPhotos(string Lit, string Target)
{
    /// <summary>Room darkened, same pose.</summary>
    public string? Dark { get; init; }

    /// <summary>Laser off, same pose.</summary>
    public string? Off { get; init; }

    /// <summary>The blade end for end.</summary>
    public string? Turned { get; init; }

    /// <summary>The same with the room darkened.</summary>
    public string? TurnedDark { get; init; }

    /// <summary>up or down; null where nobody noted it.</summary>
    public string? Tip { get; init; }

    /// <summary>red or green; null: found in the photo.</summary>
    public string? Laser { get; init; }

    /// <summary>dot or line; null: judged from the photo.</summary>
    public string? Beam { get; init; }

    /// <summary>flat, convex, hollow, or null: nobody told.</summary>
    public string? Form { get; init; }

    /// <summary>Distance told with the photos.</summary>
    public double? DistanceMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double? DistanceUMm { get; init; }
}
