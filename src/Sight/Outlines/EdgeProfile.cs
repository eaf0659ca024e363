using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Light across an edge at one place, median over a few millimetres along it so that grid lines and chips fall out.</summary>
/// <param name="AtMm">Along the line of stations.</param>
/// <param name="Share">The same as a share from heel to tip.</param>
/// <param name="TurnRad">The edge's normal here against its mean.</param>
/// <param name="View">How far behind the edge the paper is seen beside it, per millimetre of the edge's height: positive where the camera looks in under it.</param>
/// <param name="Light">Linear light, three channels against depth.</param>
internal sealed record EdgeProfile(double AtMm, double Share, double TurnRad, double View, double[][] Light)
{
    /// <summary>−2 log likelihood of the edge at each sample, as ruled lines that end here tell it (<see cref="RuledEnd"/>); null where none does.</summary>
    public IReadOnlyList<double>? Ruled { get; init; }

    /// <summary>Share of the paper's light that a ruled line's ink takes at each sample, where one runs along the edge here; null where none does.</summary>
    public double[]? Ink { get; init; }

    private const double EveryMm = 2;
    private const double HalfMm = 3;

    /// <summary>Ink that takes less than this of the light is none. Chosen.</summary>
    private const double LeastInk = 0.005;

    /// <summary>Depth of the first sample: outside.</summary>
    public const double FromMm = -2.4;

    /// <summary>Spacing of samples.</summary>
    public const double StepMm = 0.05;

    /// <summary>How many samples.</summary>
    public const int Count = 121;

    /// <summary>Profiles every two millimetres.</summary>
    public static IReadOnlyList<EdgeProfile> Along(Point2[] line, Vector2[] inward, PhotoSampler sampler, LensMap map, double ds, MatCamera? camera = null, IReadOnlyList<double>? places = null)
    {
        double length = (line.Length - 1) * ds;
        Vector2 mean = default;
        foreach (Vector2 v in inward)
            mean += v;
        mean = mean.Normalized();
        Vector2 along = (line[^1] - line[0]).Normalized();
        var profiles = new List<EdgeProfile>();
        places ??= [.. Enumerable.Range(0, (int)Math.Max(0, Math.Ceiling((length - (2 * HalfMm)) / EveryMm))).Select(i => HalfMm + (i * EveryMm))];
        foreach (double at in places)
        {
            int middle = Math.Min(line.Length - 1, (int)(at / ds));
            double turn = Math.Atan2(inward[middle].Dot(along), inward[middle].Dot(mean));
            double view = camera is null ? 0 : camera.Parallax(line[middle], 1).Dot(inward[middle]);
            (int from, int to) = (Math.Max(0, (int)((at - HalfMm) / ds)), Math.Min(line.Length - 1, (int)((at + HalfMm) / ds)));
            profiles.Add(new(at, at / length, turn, view, Median(line, inward, from, to, sampler, map)) { Ink = InkOf(sampler.Ink, [.. Rows(from, to).Select(i => line[i])], [.. Rows(from, to).Select(i => inward[i])]) });
        }

        return profiles;
    }

    /// <summary>Which of some profiles lies nearest to a place along the line of stations.</summary>
    public static int Nearest(IReadOnlyList<EdgeProfile> profiles, double atMm) => Enumerable.Range(0, profiles.Count).MinBy(i => Math.Abs(profiles[i].AtMm - atMm));

    /// <summary>The ink that rows across an edge show at each sample, as their light is taken: the median.</summary>
    /// <param name="ink">Lines on the mat.</param>
    /// <param name="at">Where the rows cross the line of stations.</param>
    /// <param name="inward">Where they go.</param>
    public static double[]? InkOf(RuledInk? ink, Point2[] at, Vector2[] inward)
    {
        if (ink?.Near([.. at.Select((p, i) => p + (inward[i] * FromMm)), .. at.Select((p, i) => p + (inward[i] * (FromMm + ((Count - 1) * StepMm))))]) is not { } near)
            return null;
        double[] share = [.. Enumerable.Range(0, Count).Select(k => at.Select((p, i) => near.At(p + (inward[i] * (FromMm + (k * StepMm))))).Order().ElementAt(at.Length / 2))];
        return share.Max() < LeastInk ? null : share;
    }

    // Every so many stations.
    private static IEnumerable<int> Rows(int from, int to)
    {
        int step = Math.Max(1, (to - from) / 24);
        return Enumerable.Range(0, ((to - from) / step) + 1).Select(j => from + (j * step));
    }

    private static double[][] Median(Point2[] line, Vector2[] inward, int from, int to, PhotoSampler sampler, LensMap map)
    {
        int[] rows = [.. Rows(from, to)];
        double[][] light = [new double[Count], new double[Count], new double[Count]];
        int n = rows.Length;
        float[][] values = [new float[n], new float[n], new float[n]];

        // A section is straight in the photo over these few millimetres: its ends are mapped, the rest lies evenly between.
        var first = new Point2[n];
        var each = new Vector2[n];
        for (int j = 0; j < n; j++)
        {
            int i = rows[j];
            first[j] = map.ToPhoto(line[i] + (inward[i] * FromMm));
            each[j] = (map.ToPhoto(line[i] + (inward[i] * (FromMm + ((Count - 1) * StepMm)))) - first[j]) * (1.0 / (Count - 1));
        }

        for (int k = 0; k < Count; k++)
        {
            for (int j = 0; j < n; j++)
                (values[0][j], values[1][j], values[2][j]) = sampler.At(first[j] + (each[j] * k));
            for (int c = 0; c < 3; c++)
            {
                Array.Sort(values[c]);
                light[c][k] = values[c][n / 2];
            }
        }

        return light;
    }
}
