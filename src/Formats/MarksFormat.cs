using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>marks.json: marks read by eye. Described in docs/formats/marks.schema.json.</summary>
public static class MarksFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["scale", "resolutionDeg", "resolutionMm", "scaleDistanceMm", "kind", "mounts"];

    /// <summary>Keys of a mount.</summary>
    public static IReadOnlyList<string> MountKeys { get; } = ["tip", "left", "right"];

    /// <summary>Keys of one side of the target.</summary>
    public static IReadOnlyList<string> SideKeys { get; } = ["edge", "primary", "micro"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<BenchMarks> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static BenchMarks? From(FieldReader root)
    {
        MarkScale? scale = root.RequiredWord("scale", "bevel", "deflection", "target-mm") switch
        {
            "bevel" => MarkScale.Bevel,
            "deflection" => MarkScale.Deflection,
            "target-mm" => MarkScale.TargetMillimetres,
            _ => null,
        };
        double? resolutionMm = root.LengthMm("resolutionMm", Limits.Positive);
        double resolutionDeg = scale == MarkScale.TargetMillimetres && resolutionMm is not null
            ? root.AngleDeg("resolutionDeg", Limits.PositiveTo(20)) ?? 1
            : root.RequiredAngleDeg("resolutionDeg", Limits.PositiveTo(20));
        double? printedFor = root.LengthMm("scaleDistanceMm", Limits.Positive);
        PieceKind? kind = BladeFormat.ReadKind(root);
        if (!root.Has("mounts"))
            root.Fault("mounts", "missing; a list of one or more mounts would be right, each with left and right of the target");
        List<BenchMount> mounts = [];
        foreach (FieldReader mount in root.Objects("mounts", [.. MountKeys]))
            mounts.Add(ReadMount(mount, scale ?? MarkScale.Bevel));
        if (root.Has("mounts") && mounts.Count == 0)
            root.Fault("mounts", "at least one mount with marks would be right");
        return scale is null ? null : new(scale.Value, resolutionDeg, mounts)
        {
            ResolutionMm = resolutionMm,
            ScaleDistance = printedFor is { } mm && double.IsFinite(mm) ? Length.FromMillimetres(mm) : null,
            HasBack = kind?.Reference() == AngleReference.Back,
        };
    }

    private static BenchMount ReadMount(FieldReader mount, MarkScale scale)
    {
        TipDirection? tip = mount.Word("tip", "up", "down") switch
        {
            "up" => TipDirection.Up,
            "down" => TipDirection.Down,
            _ => null,
        };
        if (!mount.Has("left") && !mount.Has("right"))
            mount.Fault("left", "missing, and right too; the marks of at least one side of the target would be right");
        return new(tip, ReadSide(mount, "left", scale), ReadSide(mount, "right", scale));
    }

    private static BenchSideMarks ReadSide(FieldReader mount, string key, MarkScale scale)
    {
        string unit = scale == MarkScale.TargetMillimetres ? "mm" : "°";
        return mount.Object(key, [.. SideKeys]) is { } side
            ? new(side.Numbers("edge", Limits.Any, unit), side.Numbers("primary", Limits.Any, unit), side.Numbers("micro", Limits.Any, unit))
            : BenchSideMarks.None;
    }
}
