using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>
/// A smooth curve through scattered points of an edge: cubic B-splines x(u), y(u) on equal steps of chord length u, with a penalty on
/// third differences of the coefficients, so that a smooth edge is drawn toward a parabola and never toward a
/// straight line. The weight of the penalty is the one with the least generalised cross-validation score of the residuals square to
/// the edge; where the noise is told, it is the largest weight that keeps the residuals at that noise. Source: [eilers-marx], [wahba].
/// </summary>
/// <remarks>Takes the scatter as independent from point to point; where neighbours err together (a traced outline), tell the noise.</remarks>
internal sealed class EdgeFit
{
    /// <summary>More points than this are averaged in groups first (chosen, not derived).</summary>
    private const int MostPoints = 400;

    private const int Passes = 2;

    private EdgeFit(IReadOnlyList<EdgeSegment> segments, double noiseMm, double smoothedOverMm)
    {
        Segments = segments;
        NoiseMm = noiseMm;
        SmoothedOverMm = smoothedOverMm;
    }

    public IReadOnlyList<EdgeSegment> Segments { get; }

    public double NoiseMm { get; }

    public double SmoothedOverMm { get; }

    public static EdgeFit Of(Point2[] given, double? noiseMm)
    {
        Point2[] points = Grouped(given, out int perGroup);
        int n = points.Length;
        double? noise = noiseMm / Math.Sqrt(perGroup);
        double[] u = new double[n];
        for (int i = 1; i < n; i++)
            u[i] = u[i - 1] + points[i].DistanceTo(points[i - 1]);
        EdgeSpline? best = null;
        for (int pass = 0; pass < Passes; pass++)
        {
            EdgeSpline basis = new(points, u);
            best = Choose(basis, noise);
            if (pass + 1 < Passes)
                best.Reproject(u);
        }

        double found = best!.NoiseMm < 1e-7 ? 0 : best.NoiseMm * Math.Sqrt(perGroup);
        return new(best.Segments(), found, best.SmoothedOverMm);
    }

    /// <summary>The fit with the chosen weight: golden-section over the weight's logarithm after a coarse walk.</summary>
    private static EdgeSpline Choose(EdgeSpline basis, double? noiseMm)
    {
        const double low = -9;
        const double high = 7;
        double Score(double logWeight)
        {
            basis.Solve(Math.Pow(10, logWeight));
            if (basis.GoesThroughEach)
                return double.PositiveInfinity;
            if (noiseMm is { } told && told > 0)
            {
                double miss = Math.Log(Math.Max(basis.NoiseMm, 1e-12) / told);
                return miss * miss;
            }

            return Math.Log(Math.Max(basis.CrossValidation, 1e-24));
        }

        if (noiseMm == 0)
        {
            basis.Solve(Math.Pow(10, low));
            return basis;
        }

        double at = low;
        double lightest = high;
        double least = double.PositiveInfinity;
        for (double log = low; log <= high; log += 1)
        {
            double score = Score(log);
            if (double.IsFinite(score))
                lightest = Math.Min(lightest, log);
            if (score < least)
                (least, at) = (score, log);
        }

        // The lighter the better down to the end: the points have no scatter.
        if (at <= lightest && noiseMm is null or 0)
        {
            basis.Solve(Math.Pow(10, low));
            return basis;
        }

        for (double step = 0.5; step > 0.05; step /= 2)
        {
            foreach (double log in (double[])[at - step, at + step])
            {
                double score = Score(log);
                if (score < least)
                    (least, at) = (score, log);
            }
        }

        basis.Solve(Math.Pow(10, at));
        return basis;
    }

    /// <summary>Averages neighbours in equal groups where there are very many; the ends are kept.</summary>
    private static Point2[] Grouped(Point2[] points, out int perGroup)
    {
        perGroup = 1;
        if (points.Length <= MostPoints)
            return points;
        perGroup = (int)Math.Ceiling(points.Length / (double)MostPoints);
        List<Point2> means = [points[0]];
        for (int start = 1; start < points.Length - 1; start += perGroup)
        {
            int end = Math.Min(start + perGroup, points.Length - 1);
            double x = 0;
            double y = 0;
            for (int i = start; i < end; i++)
                (x, y) = (x + points[i].X, y + points[i].Y);
            means.Add(new(x / (end - start), y / (end - start)));
        }

        means.Add(points[^1]);
        return [.. means];
    }
}
