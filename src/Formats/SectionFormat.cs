using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>section.json: an edge's section as found and what is to become of it. Described in docs/formats/section.schema.json.</summary>
public static class SectionFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
    [
        "behindEdgeMm", "primaryHalfDeg", "landMm", "old", "new", "chipMm", "until", "recessionMm", "microWidthMm", "lengthMm",
        "bluedDepthMm", "back", "oldRadiusMm", "newRadiusMm", "heightMm", "burrAllowanceMm", "chipMarginMm", "thinningLimitMm", "visitRecessionMm",
    ];

    /// <summary>Keys of a pair of angles.</summary>
    public static IReadOnlyList<string> PairKeys { get; } = ["leftDeg", "rightDeg"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<SectionInput> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static SectionInput? From(FieldReader root)
    {
        double behind = root.RequiredLengthMm("behindEdgeMm", Limits.PositiveTo(50));
        double half = root.RequiredAngleDeg("primaryHalfDeg", new Limits(0, 44.9));
        Side? back = root.Word("back", "left", "right") switch { "left" => Side.Left, "right" => Side.Right, _ => null };
        SidePair? old = ReadPair(root, "old", back), made = ReadPair(root, "new", back);
        double length = root.RequiredLengthMm("lengthMm", Limits.PositiveTo(5000));
        SectionInput input = new(behind, half, old ?? new(0, 0), made ?? new(0, 0), length)
        {
            LandMm = root.LengthMm("landMm", Limits.NotNegative) ?? 0,
            ChipMm = root.LengthMm("chipMm", Limits.NotNegative) ?? 0,
            BluedDepthMm = root.LengthMm("bluedDepthMm", Limits.NotNegative) ?? 0,
            Until = ReadUntil(root),
            RecessionMm = root.LengthMm("recessionMm", Limits.NotNegative),
            MicroWidthMm = root.LengthMm("microWidthMm", Limits.Positive),
            Back = back,
            OldRadiusMm = ReadRadius(root, "oldRadiusMm"),
            NewRadiusMm = ReadRadius(root, "newRadiusMm"),
            HeightMm = root.LengthMm("heightMm", Limits.Positive),
            BurrAllowanceMm = root.LengthMm("burrAllowanceMm", Limits.NotNegative),
            ChipMarginMm = root.LengthMm("chipMarginMm", Limits.NotNegative),
            ThinningLimitMm = root.LengthMm("thinningLimitMm", Limits.Positive),
            VisitRecessionMm = root.LengthMm("visitRecessionMm", Limits.Positive),
        };
        return old is null || made is null ? null : input;
    }

    internal static GrindUntil? ReadUntil(FieldReader root) => root.Word("until", "apex", "micro", "full") switch
    {
        "apex" => GrindUntil.Apex,
        "micro" => GrindUntil.Micro,
        "full" => GrindUntil.Full,
        _ => null,
    };

    private static double? ReadRadius(FieldReader root, string key)
    {
        double? radius = root.LengthMm(key, Limits.Any);
        if (radius is { } r && Math.Abs(r) < 1)
            root.Fault(key, "1 mm or more (hollow), -1 mm or less (convex), or left out (flat) would be right");
        return radius;
    }

    private static SidePair? ReadPair(FieldReader root, string key, Side? back)
    {
        if (root.Object(key, [.. PairKeys]) is not { } pair)
        {
            root.Fault(key, "missing; {\"leftDeg\": …, \"rightDeg\": …} would be right");
            return null;
        }

        return new(
            pair.RequiredAngleDeg("leftDeg", back == Side.Left ? new Limits(0, 0) : new Limits(0.5, 80)),
            pair.RequiredAngleDeg("rightDeg", back == Side.Right ? new Limits(0, 0) : new Limits(0.5, 80)));
    }
}
