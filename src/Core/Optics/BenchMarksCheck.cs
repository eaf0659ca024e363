using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Refuses typed marks that cannot be, naming field, value and what would be right.</summary>
internal static class BenchMarksCheck
{
    public static void Check(BenchMarks marks)
    {
        if (marks.Mounts.Count == 0)
            throw new ArgumentException("mounts: empty; at least one mount with marks is needed.", nameof(marks));
        if (marks.Scale != MarkScale.TargetMillimetres || marks.ResolutionMm is null)
            Positive("resolutionDeg", marks.ResolutionDeg, "the finest step told apart, such as 0.5");
        if (marks.ResolutionMm is { } mm)
            Positive("resolutionMm", mm, "the finest step told apart, such as 0.5");
        if (marks.Scale == MarkScale.TargetMillimetres && marks.Instrument is null)
            throw new ArgumentException("instrument: missing; marks in millimetres need the distance from edge to target.", nameof(marks));
        if (marks.Instrument is { } instrument)
            Positive("instrument.distanceMm", instrument.Distance.Value.Millimetres, "the distance from edge to target");
        if (marks.Mounts.Count > 1 && marks.Mounts.Any(m => m.Tip is null))
            throw new ArgumentException("mounts: with more than one, each must say where the tip was: \"up\" or \"down\".", nameof(marks));
        for (int m = 0; m < marks.Mounts.Count; m++)
        {
            CheckSide(marks.Scale, FormattableString.Invariant($"mounts[{m}].left"), Side.Left, marks.Mounts[m].Left);
            CheckSide(marks.Scale, FormattableString.Invariant($"mounts[{m}].right"), Side.Right, marks.Mounts[m].Right);
        }
    }

    /// <summary>True where the left side was typed as the sheet's own x, all of its edge marks below zero.</summary>
    public static bool TypedAsSheetX(MarkScale scale, Side target, BenchSideMarks side) =>
        scale == MarkScale.TargetMillimetres && target == Side.Left && side.Edge.Count > 0 && side.Edge.All(v => v < 0);

    private static void CheckSide(MarkScale scale, string field, Side target, BenchSideMarks side)
    {
        bool flipped = TypedAsSheetX(scale, target, side);
        foreach (MarkRole role in new[] { MarkRole.Edge, MarkRole.Primary, MarkRole.Micro })
        {
            IReadOnlyList<double> values = side.Of(role);
            for (int i = 0; i < values.Count; i++)
                CheckValue(scale, FormattableString.Invariant($"{field}.{Name(role)}[{i}]"), flipped ? -values[i] : values[i], role);
        }
    }

    private static void CheckValue(MarkScale scale, string field, double value, MarkRole role)
    {
        string shown = value.ToString(CultureInfo.InvariantCulture);
        if (!double.IsFinite(value))
            throw new ArgumentException($"{field}: {shown} is not a number.", nameof(value));
        double most = scale switch { MarkScale.Bevel => 45, MarkScale.Deflection => 90, _ => double.PositiveInfinity };
        if (Math.Abs(value) >= most)
        {
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                $"{field}: {value}° cannot be read on a target; it must lie below {most}°, where the light would run along the sheet."), nameof(value));
        }

        if (role != MarkRole.Primary && value < 0)
            throw new ArgumentException($"{field}: {shown} is below zero; count outward from zero on either side (only a primary's mark may cross zero).", nameof(value));
    }

    private static void Positive(string field, double value, string right)
    {
        if (!double.IsFinite(value) || value <= 0)
            throw new ArgumentException($"{field}: {value.ToString(CultureInfo.InvariantCulture)}; must be above zero: {right}.", nameof(value));
    }

    private static string Name(MarkRole role) => role switch { MarkRole.Edge => "edge", MarkRole.Primary => "primary", _ => "micro" };
}
