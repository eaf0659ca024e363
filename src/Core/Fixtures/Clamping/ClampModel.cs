using Whetwright.Core.Blades;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// The scored stations of a problem as plain arrays, and the exact worst deviation of a clamp under its best settings. A deviation δ is
/// reachable at a pivot exactly where, for every channel, max g(target − δ/w) ≤ min g(target + δ/w) over the stations: the setting then fits
/// between. Holds working arrays: one thread at a time.
/// </summary>
internal sealed class ClampModel
{
    /// <summary>α is never asked to be more than this, rad (chosen, not derived; 85°).</summary>
    private const double SteepestRad = 1.4835298641951802;

    private const double NearestSupportMm = 0.5;

    private readonly double[] normalX, normalY, place;
    private readonly int[] weightOf;
    private readonly double[] weights;
    private readonly MapCoefficients[] low, high;
    private readonly double[] support, offset, square;

    public ClampModel(ClampProblem problem)
    {
        int n = problem.LastScored - problem.FirstScored + 1;
        Count = n;
        normalX = new double[n];
        normalY = new double[n];
        place = new double[n];
        weightOf = new int[n];
        List<double> distinct = [];
        for (int i = 0; i < n; i++)
        {
            EdgePoint e = problem.Stations[problem.FirstScored + i];
            normalX[i] = e.NormalX;
            normalY[i] = e.NormalY;
            place[i] = (e.XMm * e.NormalX) + (e.YMm * e.NormalY);
            int at = distinct.IndexOf(problem.Weights[i]);
            if (at < 0)
            {
                at = distinct.Count;
                distinct.Add(problem.Weights[i]);
            }

            weightOf[i] = at;
        }

        weights = [.. distinct];
        low = new MapCoefficients[weights.Length];
        high = new MapCoefficients[weights.Length];
        support = new double[n];
        offset = new double[n];
        square = new double[n];
        Channels = [.. problem.Channels.Select(c => new Line(c, problem))];
        HeaviestWeight = weights.Max();
    }

    public int Count { get; }

    public Line[] Channels { get; }

    public double HeaviestWeight { get; }

    public double NormalX(int i) => normalX[i];

    public double NormalY(int i) => normalY[i];

    /// <summary>Least worst weighted deviation at a pivot, rad, with g of each channel that reaches it; infinite where there is no pose.</summary>
    public double DeltaRad(double x, double distance, Span<double> g)
    {
        double worst = 0;
        for (int c = 0; c < Channels.Length; c++)
        {
            if (!Place(Channels[c], x, distance))
                return double.PositiveInfinity;
            worst = Math.Max(worst, Balance(Channels[c], 0, out g[c]));
            if (double.IsInfinity(worst))
                return worst;
        }

        return worst;
    }

    /// <summary>
    /// The same without the settings: a channel that keeps within the worst of those before it is not solved for its own least.
    /// </summary>
    public double DeltaRad(double x, double distance)
    {
        double worst = 0;
        for (int c = 0; c < Channels.Length; c++)
        {
            if (!Place(Channels[c], x, distance))
                return double.PositiveInfinity;
            if (worst > 0)
            {
                Extremes(Channels[c], worst, out double highest, out _, out double lowest, out _);
                if (highest <= lowest)
                    continue;
            }

            worst = Math.Max(worst, Balance(Channels[c], worst, out _));
            if (double.IsInfinity(worst))
                return worst;
        }

        return worst;
    }

    /// <summary>Coefficients at target − δ/w and target + δ/w for each weight.</summary>
    public (MapCoefficients[] Low, MapCoefficients[] High) Levels(Line channel, double deltaRad)
    {
        for (int k = 0; k < weights.Length; k++)
        {
            low[k] = channel.Map.Coefficients(LowAngle(channel, deltaRad, k));
            high[k] = channel.Map.Coefficients(HighAngle(channel, deltaRad, k));
        }

        return (low, high);
    }

    public int WeightOf(int station) => weightOf[station];

    public double SupportAt(int i, double x, double distance) => place[i] - (x * normalX[i]) + (distance * normalY[i]);

    private static double LowAngle(double target, double deviation) => Math.Max(target - deviation, 0);

    private double LowAngle(Line channel, double deltaRad, int weight) => LowAngle(channel.TargetRad, deltaRad / weights[weight]);

    private double HighAngle(Line channel, double deltaRad, int weight) => Math.Min(channel.TargetRad + (deltaRad / weights[weight]), SteepestRad);

    /// <summary>Support and offset of each station; false where one has no pose.</summary>
    private bool Place(Line channel, double x, double distance)
    {
        double k2 = channel.Map.Square;
        MapCoefficients slopeAtTarget = channel.Map.Derivatives(channel.TargetRad);
        for (int i = 0; i < Count; i++)
        {
            double p = SupportAt(i, x, distance);
            double q = channel.Offset[i] + (channel.PerSupport * p) + (channel.PerDistance * distance);
            if (p < NearestSupportMm || (slopeAtTarget.A * p) + slopeAtTarget.B + (slopeAtTarget.C * q) <= 0)
                return false;
            support[i] = p;
            offset[i] = q;
            square[i] = k2 * ((p * p) + (q * q));
        }

        return true;
    }

    /// <summary>Least deviation of the placed stations, from a start known to be at most that: Newton on the gap, which falls as δ grows, held within a bracket.</summary>
    private double Balance(Line channel, double start, out double g)
    {
        g = double.NaN;
        double most = channel.TargetRad * HeaviestWeight;
        double above = 0;
        double below = double.PositiveInfinity;
        double delta = start;
        for (int pass = 0; pass < 80; pass++)
        {
            Extremes(channel, delta, out double highest, out int i, out double lowest, out int k);
            double gap = highest - lowest;
            g = double.IsInfinity(lowest) ? highest : double.IsInfinity(highest) ? lowest : 0.5 * (highest + lowest);
            if (gap <= 0 && delta == 0)
                return 0;
            if (gap > 0)
                above = delta;
            else
                below = delta;
            if (delta >= most && gap > 0)
                return double.PositiveInfinity;
            double slope = SlopeOf(channel, i, true, delta) + SlopeOf(channel, k, false, delta);
            double next = slope > 0 ? delta + (gap / slope) : double.NaN;
            if (Math.Abs(next - delta) < 1e-15 + (1e-13 * delta) || below - above < 1e-15)
                return delta;
            if (!(next > above && next < Math.Min(below, most)))
                next = double.IsInfinity(below) ? most : 0.5 * (above + below);
            delta = next;
        }

        return delta;
    }

    private double SlopeOf(Line channel, int station, bool isLow, double deltaRad)
    {
        if (station < 0)
            return 0;
        int w = weightOf[station];
        double angle = isLow ? LowAngle(channel, deltaRad, w) : HighAngle(channel, deltaRad, w);
        return isLow && angle == 0 ? 0 : channel.Map.Slope(angle, support[station], offset[station]) / weights[w];
    }

    private void Extremes(Line channel, double deltaRad, out double highest, out int highestAt, out double lowest, out int lowestAt)
    {
        Levels(channel, deltaRad);
        highest = channel.LeastG;
        lowest = channel.MostG;
        highestAt = -1;
        lowestAt = -1;
        if (weights.Length == 1)
        {
            (double la, double lb, double lc) = low[0];
            (double ha, double hb, double hc) = high[0];
            for (int i = 0; i < Count; i++)
            {
                double at = square[i] + (la * support[i]) + lb + (lc * offset[i]);
                if (at > highest)
                    (highest, highestAt) = (at, i);
                double to = square[i] + (ha * support[i]) + hb + (hc * offset[i]);
                if (to < lowest)
                    (lowest, lowestAt) = (to, i);
            }

            return;
        }

        for (int i = 0; i < Count; i++)
        {
            (double la, double lb, double lc) = low[weightOf[i]];
            (double ha, double hb, double hc) = high[weightOf[i]];
            double at = square[i] + (la * support[i]) + lb + (lc * offset[i]);
            if (at > highest)
                (highest, highestAt) = (at, i);
            double to = square[i] + (ha * support[i]) + hb + (hc * offset[i]);
            if (to < lowest)
                (lowest, lowestAt) = (to, i);
        }
    }

    /// <summary>A channel as plain numbers.</summary>
    public sealed class Line
    {
        public Line(ClampChannel channel, ClampProblem problem)
        {
            Map = channel.Map;
            TargetRad = channel.Target.Radians;
            PerSupport = channel.OffsetPerSupport;
            PerDistance = channel.OffsetPerDistance;
            LeastG = channel.LeastSettingMm is { } least ? Map.ToG(least) : double.NegativeInfinity;
            MostG = channel.MostSettingMm is { } most ? Map.ToG(most) : double.PositiveInfinity;
            Offset = new double[problem.LastScored - problem.FirstScored + 1];
            for (int i = 0; i < Offset.Length; i++)
                Offset[i] = channel.OffsetMm + ClampSearch.BendAt(problem, channel, problem.FirstScored + i);
        }

        public AngleMap Map { get; }

        public double TargetRad { get; }

        public double PerSupport { get; }

        public double PerDistance { get; }

        public double LeastG { get; }

        public double MostG { get; }

        public double[] Offset { get; }
    }
}
