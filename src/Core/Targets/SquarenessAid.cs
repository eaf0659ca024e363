using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>
/// The strip that shows the sheet square to the beam, without folding. Three marks A (lower left), B (lower right), C (upper right) stand equally far
/// from zero. Hold the end of a thread at the edge, where the light meets it, pinch it at A, and swing it to B and to C: on a square sheet it
/// ends on both noughts; where it ends beside one, the scale reads the turn in degrees.
/// </summary>
/// <param name="AMm">A, sheet frame, mm.</param>
/// <param name="BMm">B: its scale runs across.</param>
/// <param name="CMm">C: its scale runs down.</param>
/// <param name="MmPerDegree">Shift of the thread's end on either scale per degree, near zero.</param>
/// <param name="TicksDeg">The ticks on either side of nought, degrees.</param>
public sealed record SquarenessAid(Point2 AMm, Point2 BMm, Point2 CMm, double MmPerDegree, IReadOnlyList<double> TicksDeg)
{
    private const double HalfScaleMm = 8;

    /// <summary>
    /// Shift of the thread's end: for a sheet turned by ε about an axis through zero, square to the pair of marks, the point that is as far from the
    /// edge as the mark at −a lies at a − 2 L sin ε. Exact for one turn at a time: both distances are a² + L² ± 2 a L sin ε, and
    /// the common part of any turn about the other axis falls out to first order. Source: derived here, law of cosines.
    /// </summary>
    public static Length Shift(Length distance, Angle turn) => distance * (2 * Math.Sin(turn.Radians));

    /// <summary>The aid for a distance, with the marks at the given offsets from zero.</summary>
    public static SquarenessAid For(Length distance, Point2 zeroMm, Vector2 offsetMm)
    {
        double perDegree = Shift(distance, Angle.FromDegrees(1)).Millimetres;
        double step = perDegree >= 5 ? 0.5 : 1;
        int count = (int)Math.Floor(HalfScaleMm / (perDegree * step));
        return new(
            new(zeroMm.X - offsetMm.X, zeroMm.Y + offsetMm.Y),
            new(zeroMm.X + offsetMm.X, zeroMm.Y + offsetMm.Y),
            new(zeroMm.X + offsetMm.X, zeroMm.Y - offsetMm.Y),
            perDegree,
            [.. Enumerable.Range(1, Math.Max(1, count)).Select(i => i * step)]);
    }
}
