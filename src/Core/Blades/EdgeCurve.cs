using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>
/// The edge of a piece as a smooth curve in its own plane, from heel to tip, with tangent, outward normal and curvature
/// everywhere. The first point given is the heel and becomes the origin; the axes stay as given (x toward the tip, along the chord
/// or the straight of the edge; y outward). Arc length s starts at the heel. Immutable.
/// </summary>
public sealed partial class EdgeCurve
{
    /// <summary>Longest edge that is believed, mm (chosen, not derived: longer numbers are a slip of unit or comma).</summary>
    public const double LongestMm = 2000;

    /// <summary>Shortest edge that is believed, mm (chosen, not derived).</summary>
    public const double ShortestMm = 2;

    private readonly EdgeSegment[] segments;
    private readonly double[] startsMm;

    private EdgeCurve(IReadOnlyList<EdgeSegment> segments, IReadOnlyList<Point2> pointsMm, EdgeOrigin origin, double noiseMm, double smoothedOverMm)
    {
        this.segments = [.. segments];
        startsMm = new double[segments.Count + 1];
        for (int i = 0; i < segments.Count; i++)
            startsMm[i + 1] = startsMm[i] + segments[i].LengthMm;
        Points = pointsMm;
        Origin = origin;
        NoiseMm = noiseMm;
        SmoothedOverMm = smoothedOverMm;
        Heel = At(0).Place;
        Tip = At(LengthMm).Place;
    }

    /// <summary>Arc length from heel to tip, mm.</summary>
    public double LengthMm => startsMm[^1];

    /// <summary>The points it was made from, shifted so that the first is the origin; the ends of the stretches for a parametric shape.</summary>
    public IReadOnlyList<Point2> Points { get; }

    /// <summary>What the curve was made from.</summary>
    public EdgeOrigin Origin { get; }

    /// <summary>Scatter of the points about the curve, one standard deviation square to the edge, mm; zero where they are taken as exact.</summary>
    public double NoiseMm { get; }

    /// <summary>Length of edge over which a tangent is averaged, about, mm; zero where the points are taken as exact.</summary>
    public double SmoothedOverMm { get; }

    /// <summary>The curve's first point. Within the noise of the origin.</summary>
    public Point2 Heel { get; }

    /// <summary>The curve's last point.</summary>
    public Point2 Tip { get; }

    /// <summary>Straight-line distance from heel to tip, mm.</summary>
    public double ChordMm => Heel.DistanceTo(Tip);

    /// <summary>The station at arc length s; s is held within the edge.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a finite number.</exception>
    public EdgePoint At(double sMm)
    {
        double s = Math.Clamp(Require.Finite(sMm), 0, LengthMm);
        int index = Array.BinarySearch(startsMm, s);
        if (index < 0)
            index = ~index - 1;
        index = Math.Min(index, segments.Length - 1);
        return segments[index].At(s - startsMm[index], s);
    }

    /// <summary>Stations at equal arc length from heel to tip, both ends included.</summary>
    public EdgePoint[] Stations(int count) => Stations(0, LengthMm, count);

    /// <summary>Stations at equal arc length over a stretch, both ends included.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than two, or a stretch that is not within the edge.</exception>
    public EdgePoint[] Stations(double fromMm, double toMm, int count)
    {
        Require.Within(fromMm, 0, LengthMm);
        Require.Within(toMm, fromMm, LengthMm);
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        EdgePoint[] stations = new EdgePoint[count];
        for (int i = 0; i < count; i++)
            stations[i] = At(fromMm + ((toMm - fromMm) * i / (count - 1)));
        return stations;
    }

    /// <summary>Arc length of the station whose x is nearest to the one given: the first such from the heel.</summary>
    public double ArcLengthAtX(double xMm)
    {
        const int steps = 400;
        EdgePoint[] stations = Stations(steps + 1);
        int best = 0;
        for (int i = 1; i <= steps; i++)
        {
            if (Math.Abs(stations[i].XMm - xMm) < Math.Abs(stations[best].XMm - xMm))
                best = i;
        }

        double s = stations[best].SMm;
        for (int pass = 0; pass < 20; pass++)
        {
            EdgePoint here = At(s);
            if (Math.Abs(here.TangentX) < 1e-6)
                break;
            double next = Math.Clamp(s - ((here.XMm - xMm) / here.TangentX), 0, LengthMm);
            if (Math.Abs(next - s) < 1e-12)
                break;
            s = next;
        }

        return s;
    }
}

/// <summary>What an edge curve was made from.</summary>
public enum EdgeOrigin
{
    /// <summary>Points enough to tell their scatter: smoothed.</summary>
    SmoothedPoints = 0,

    /// <summary>Few points, or points without scatter: the curve goes through each.</summary>
    PointsAsGiven = 1,

    /// <summary>Four lengths: straight and arc.</summary>
    Shape = 2,
}
