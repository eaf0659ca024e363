namespace Whetwright.Sight.Marks;

/// <summary>A mark's arc: where it is at any height, and how well that is known.</summary>
/// <param name="DistanceMm">Distance the arc was fitted with; the arc is a curve on the sheet, whatever the distance proves to be.</param>
/// <param name="ThetaRad">Facet angle from the arc's own specular point.</param>
/// <param name="Skew">g of <see cref="ScatterCone"/>.</param>
/// <param name="Follow">How far the ridge follows the arc: 1 for a point of light, 0 for a beam much taller than the scatter.</param>
/// <param name="RowMm">Height of the specular point that was taken, from the target's zero.</param>
/// <param name="UMm">Standard uncertainty of x at that height from the scatter of the ridge.</param>
internal sealed record RidgeFit(double DistanceMm, double ThetaRad, double Skew, double Follow, double RowMm, double UMm)
{
    private const int MaxIterations = 20;

    /// <summary>x outward at a height y (both from the target's zero).</summary>
    public double OutMm(double yMm) => ScatterCone.X(DistanceMm, ThetaRad, Skew, Follow * (yMm - RowMm));

    /// <summary>Slope dx/dy at the row.</summary>
    public double Slope => OutMm(RowMm + 0.5) - OutMm(RowMm - 0.5);

    /// <summary>Fits θ, skew and follow to a ridge.</summary>
    /// <param name="ridge">Points: outward x, y from the target's zero, standard deviation of one point.</param>
    /// <param name="distanceMm">Edge to sheet.</param>
    /// <param name="rowMm">Height of the specular point.</param>
    /// <param name="follow">Prior of the follow factor.</param>
    public static RidgeFit? Fit(IReadOnlyList<(double Out, double Y, double Sd)> ridge, double distanceMm, double rowMm, (double Value, double Sd) follow)
    {
        if (ridge.Count == 0)
            return null;
        (double Out, double Y, double Sd) nearest = ridge.MinBy(p => Math.Abs(p.Y - rowMm));
        double[] p = [Math.Atan2(Math.Max(nearest.Out, 0.5), distanceMm) / 2, 0, follow.Value];
        double cost = Cost(p, ridge, distanceMm, rowMm, follow, out double[] r);
        double lambda = 1e-3;
        double[] small = [1e-5, 1e-4, 1e-4];
        for (int iteration = 0; iteration < MaxIterations; iteration++)
        {
            double[,] j = new double[r.Length, 3];
            for (int k = 0; k < 3; k++)
            {
                double[] moved = (double[])p.Clone();
                moved[k] += small[k];
                _ = Cost(moved, ridge, distanceMm, rowMm, follow, out double[] rk);
                for (int i = 0; i < r.Length; i++)
                    j[i, k] = (rk[i] - r[i]) / small[k];
            }

            double[]? step = LeastSquares.Step(j, r, lambda);
            if (step is null)
                break;
            double[] next = [Math.Clamp(p[0] - step[0], 1e-3, 0.75), Math.Clamp(p[1] - step[1], -1.5, 1.5), Math.Clamp(p[2] - step[2], 0, 1)];
            double nextCost = Cost(next, ridge, distanceMm, rowMm, follow, out double[] rn);
            if (nextCost < cost)
            {
                bool done = cost - nextCost < 1e-6 * cost;
                (p, r, cost, lambda) = (next, rn, nextCost, lambda * 0.2);
                if (done)
                    break;
            }
            else if ((lambda *= 10) > 1e6)
            {
                break;
            }
        }

        double rms = Math.Sqrt(cost / Math.Max(1, ridge.Count - 2));
        double effective = Math.Max(1, ridge.Count / 4.0);
        double sd = ridge.Average(q => q.Sd) * Math.Max(rms, 0.3) / Math.Sqrt(effective);
        return new(distanceMm, p[0], p[1], p[2], rowMm, sd);
    }

    private static double Cost(double[] p, IReadOnlyList<(double Out, double Y, double Sd)> ridge, double distanceMm, double rowMm, (double Value, double Sd) follow, out double[] r)
    {
        r = new double[ridge.Count + 2];
        double sum = 0;
        for (int i = 0; i < ridge.Count; i++)
        {
            (double x, double y, double sd) = ridge[i];
            double model = ScatterCone.X(distanceMm, p[0], p[1], p[2] * (y - rowMm));
            if (double.IsNaN(model))
                model = 0;
            double t = (x - model) / sd;
            r[i] = Math.Abs(t) <= 2.5 ? t : Math.Sign(t) * Math.Sqrt((5 * Math.Abs(t)) - 6.25);
            sum += r[i] * r[i];
        }

        r[^2] = (p[2] - follow.Value) / follow.Sd;
        r[^1] = p[1] / 0.4;
        sum += (r[^2] * r[^2]) + (r[^1] * r[^1]);
        return sum;
    }
}
