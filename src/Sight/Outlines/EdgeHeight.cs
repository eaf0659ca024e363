using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The edge's height over the mat from two photos taken from different places: the height, and its slope along the edge, that lay both views of
/// the edge, of the heel and of the tip on each other. X = S + (C − S)·z/H for each view.
/// </summary>
/// <param name="HeelMm">Height at the heel.</param>
/// <param name="TipMm">Height at the tip.</param>
/// <param name="UMm">Standard uncertainty of the middle height.</param>
/// <param name="Baseline">How far apart the views are: difference of r/H, root mean square; below 0.1 there is little to see.</param>
internal sealed record EdgeHeight(double HeelMm, double TipMm, double UMm, double Baseline)
{
    /// <summary>Both sheets' maps and both contact shadows disagree by about this, mm. Chosen, from photographs of known truth.</summary>
    private const double AgreementMm = 0.08;

    public double MiddleMm => (HeelMm + TipMm) / 2;

    public static EdgeHeight? Between(OutlineView a, OutlineView b)
    {
        Point2[] first = [.. Contour.Open(a.EdgeLine, 1.0)];
        Point2[] second = b.EdgeLine;
        double[] z = [OutlineBudget.UsualHeightMm, OutlineBudget.UsualHeightMm];
        double[,] covariance = { { 1, 0 }, { 0, 1 } };
        double baseline = 0;
        for (int pass = 0; pass < 6; pass++)
        {
            var rows = new List<(double J0, double J1, double R, double W)>();
            Point2[] there = [.. second.Select((p, i) => b.Camera.Correct(p, At(z, (double)i / (second.Length - 1))))];
            double sum = 0;
            for (int i = 0; i < first.Length; i++)
            {
                double t = (double)i / (first.Length - 1);
                Point2 here = a.Camera.Correct(first[i], At(z, t));
                (Point2 foot, Vector2 normal) = Foot(there, here);
                Vector2 shift = ((a.Camera.PlaceMm - first[i]) * (1 / a.Camera.HeightMm)) - ((b.Camera.PlaceMm - foot) * (1 / b.Camera.HeightMm));
                double r = (here - foot).Dot(normal);
                double g = shift.Dot(normal);
                sum += shift.Dot(shift);
                // The residual's part that is common to the whole edge does not average out: about ten independent looks.
                double w = 10.0 / first.Length / (1 + (r * r / 0.25));
                rows.Add(((1 - t) * g, t * g, r, w / (AgreementMm * AgreementMm)));
            }

            foreach ((int i, int k, double t) in new[] { (0, 0, 0.0), (first.Length - 1, second.Length - 1, 1.0) })
            {
                Point2 here = a.Camera.Correct(first[i], At(z, t));
                Vector2 d = here - there[k];
                Vector2 shift = ((a.Camera.PlaceMm - first[i]) * (1 / a.Camera.HeightMm)) - ((b.Camera.PlaceMm - second[k]) * (1 / b.Camera.HeightMm));
                const double u = 0.25; // ends are seen less well than the edge: chosen
                double w = 1 / (u * u) / (1 + (d.Dot(d) / 1.0));
                rows.Add(((1 - t) * shift.X, t * shift.X, d.X, w));
                rows.Add(((1 - t) * shift.Y, t * shift.Y, d.Y, w));
            }

            baseline = Math.Sqrt(sum / first.Length);
            double a00 = 1 / 4.0;
            double a01 = 0;
            double a11 = 1 / 4.0; // each end within 1.2 ± 2 mm beforehand
            double b0 = (z[0] - OutlineBudget.UsualHeightMm) / 4;
            double b1 = (z[1] - OutlineBudget.UsualHeightMm) / 4;
            double slope = z[1] - z[0];
            (a00, a01, a11) = (a00 + 1, a01 - 1, a11 + 1); // ends differ by 0 ± 1 mm beforehand
            (b0, b1) = (b0 - slope, b1 + slope);
            foreach (var (j0, j1, r, w) in rows)
            {
                a00 += w * j0 * j0;
                a01 += w * j0 * j1;
                a11 += w * j1 * j1;
                b0 += w * j0 * r;
                b1 += w * j1 * r;
            }

            double det = (a00 * a11) - (a01 * a01);
            if (!(det > 0))
                return null;
            z[0] -= ((a11 * b0) - (a01 * b1)) / det;
            z[1] -= ((a00 * b1) - (a01 * b0)) / det;
            covariance = new[,] { { a11 / det, -a01 / det }, { -a01 / det, a00 / det } };
        }

        double variance = (covariance[0, 0] + (2 * covariance[0, 1]) + covariance[1, 1]) / 4;
        return double.IsFinite(z[0] + z[1]) ? new(z[0], z[1], Math.Sqrt(variance), baseline) : null;
    }

    public double AtShare(double t) => HeelMm + ((TipMm - HeelMm) * t);

    private static double At(double[] z, double t) => z[0] + ((z[1] - z[0]) * t);

    private static (Point2 Foot, Vector2 Normal) Foot(Point2[] line, Point2 p)
    {
        int best = 0;
        double least = double.PositiveInfinity;
        for (int i = 0; i < line.Length; i++)
        {
            double d = line[i].DistanceTo(p);
            if (d < least)
                (least, best) = (d, i);
        }

        Point2 before = line[Math.Max(0, best - 6)];
        Point2 after = line[Math.Min(line.Length - 1, best + 6)];
        Vector2 t = (after - before).Normalized();
        double along = (p - line[best]).Dot(t);
        return (line[best] + (t * Math.Clamp(along, -1, 1)), new(-t.Y, t.X));
    }
}
