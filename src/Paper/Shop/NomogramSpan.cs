using Whetwright.Core.Fixtures.Clamping;

namespace Whetwright.Paper.Shop;

/// <summary>What a chart covers.</summary>
/// <param name="FromMm">Least distance from pivot to edge, mm.</param>
/// <param name="ToMm">Greatest, mm.</param>
/// <param name="FromDeg">Least angle, whole degrees.</param>
/// <param name="ToDeg">Greatest angle, whole degrees.</param>
public sealed record NomogramSpan(double FromMm, double ToMm, int FromDeg = 10, int ToDeg = 25)
{
    /// <summary>Widest span of distances on one chart, mm (chosen, not derived: more would be read too coarsely).</summary>
    public const double WidestMm = 100;

    /// <summary>The rig's own box, at most <see cref="WidestMm"/> about its middle, in whole tens; 80 to 160 mm where the box is not told.</summary>
    public static NomogramSpan Of(PivotBox? box)
    {
        if (box is null)
            return new(80, 160);
        double middle = (box.LeastDistanceMm + box.MostDistanceMm) / 2;
        double half = Math.Min((box.MostDistanceMm - box.LeastDistanceMm) / 2, WidestMm / 2);
        double from = Math.Max(10, Math.Floor((middle - half) / 10) * 10);
        double to = Math.Ceiling((middle + half) / 10) * 10;
        return new(from, Math.Max(to, from + 20));
    }

    internal static NomogramSpan Checked(NomogramSpan span) =>
        span is { FromMm: > 0, ToMm: <= 2000, FromDeg: >= 1, ToDeg: <= 60 } && span.ToMm - span.FromMm >= 5 && span.ToDeg > span.FromDeg
            ? span
            : throw new ArgumentException(FormattableString.Invariant(
                $"The chart would cover {span.FromMm} to {span.ToMm} mm and {span.FromDeg} to {span.ToDeg}°; it should cover 5 mm or more up to 2000 mm, and angles from 1 to 60°, the smaller first."), nameof(span));
}
