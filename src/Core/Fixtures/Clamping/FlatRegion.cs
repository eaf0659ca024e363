using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// How far the pivot may stray from the best while the worst deviation, with its settings adjusted, grows by no more than an allowance: the
/// range of x over which some distance still does, and the other way round. Not every pair within both ranges does.
/// </summary>
/// <param name="AllowanceDeg">The growth allowed.</param>
/// <param name="LeastXMm">Smallest x of such a pivot.</param>
/// <param name="MostXMm">Largest x.</param>
/// <param name="LeastDistanceMm">Smallest distance.</param>
/// <param name="MostDistanceMm">Largest distance.</param>
public sealed record FlatRegion(double AllowanceDeg, double LeastXMm, double MostXMm, double LeastDistanceMm, double MostDistanceMm)
{
    /// <summary>The allowance where none is told, degrees (chosen, not derived: a tenth of the usual tolerance).</summary>
    public const double UsualAllowanceDeg = 0.05;

    private const int Halvings = 14;

    /// <summary>The region around a clamp; the ends are found to within a part in 16,000 of the box. Takes the region as one piece.</summary>
    public static FlatRegion Around(Clamp clamp, double allowanceDeg = UsualAllowanceDeg)
    {
        Require.Positive(allowanceDeg);
        Walk walk = new(clamp, double.DegreesToRadians(clamp.WorstDeg + allowanceDeg));
        PivotBox box = clamp.Problem.Box;
        return new(
            allowanceDeg,
            walk.Reach(box.LeastXMm, true),
            walk.Reach(box.MostXMm, true),
            walk.Reach(box.LeastDistanceMm, false),
            walk.Reach(box.MostDistanceMm, false));
    }

    private sealed class Walk(Clamp clamp, double goalRad)
    {
        private readonly ClampModel model = new(clamp.Problem);
        private BoxMinimax? linear;

        /// <summary>How far toward the end of the box the pivot can go.</summary>
        public double Reach(double end, bool alongX)
        {
            linear ??= new(model);
            double good = alongX ? clamp.Pivot.X : clamp.PivotDistanceMm;
            double other = alongX ? clamp.PivotDistanceMm : clamp.Pivot.X;
            double bad = end;
            if (Holds(end, ref other, alongX))
                return end;
            for (int pass = 0; pass < Halvings; pass++)
            {
                double middle = 0.5 * (good + bad);
                if (Holds(middle, ref other, alongX))
                    good = middle;
                else
                    bad = middle;
            }

            return good;
        }

        /// <summary>True where some pivot on the line keeps the goal; leaves the other coordinate there.</summary>
        private bool Holds(double fixedAt, ref double other, bool alongX)
        {
            PivotBox box = clamp.Problem.Box;
            double least = alongX ? box.LeastDistanceMm : box.LeastXMm;
            double most = alongX ? box.MostDistanceMm : box.MostXMm;
            double at = other;
            for (double half = most - least; ; half *= 0.3)
            {
                double low = Math.Max(least, at - half);
                double high = Math.Min(most, at + half);
                double middle = 0.5 * (low + high);
                double reach = 0.5 * (high - low);
                if (alongX)
                    linear!.Solve(fixedAt, middle, 0, reach, goalRad);
                else
                    linear!.Solve(middle, fixedAt, reach, 0, goalRad);
                at = alongX ? linear.BestDistance : linear.BestX;
                double delta = alongX ? model.DeltaRad(fixedAt, at) : model.DeltaRad(at, fixedAt);
                if (delta <= goalRad)
                {
                    other = at;
                    return true;
                }

                if (linear.BoundRad > BoxMinimax.RoundingRad && reach >= 0.5 * (most - least) || half < 0.5)
                    return false;
            }
        }
    }
}
