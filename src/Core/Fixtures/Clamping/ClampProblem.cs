using System.Globalization;

using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// The question: where to clamp, so that the largest weighted deviation of α from the target over the scored stretch of the edge is smallest.
/// Stations lie at equal arc length, on the scored stretch (both ends included) and in the same step beyond it; those beyond are computed and
/// shown but not scored. Unless a stretch is told, the last <see cref="TipAllowanceMm"/> of the tip are not scored, so
/// that they cannot choose the clamp alone.
/// </summary>
public sealed class ClampProblem
{
    /// <summary>Length of tip that is not scored unless a stretch is told, mm (chosen, not derived).</summary>
    public const double TipAllowanceMm = 2;

    /// <summary>Fewest stations on the scored stretch.</summary>
    public const int FewestStations = 51;

    /// <summary>Most stations on the scored stretch.</summary>
    public const int MostStations = 201;

    private readonly Func<EdgePoint, double>? weight;

    private ClampProblem(Blade blade, IReadOnlyList<ClampChannel> channels, PivotBox box, double fromMm, double toMm, int count, Func<EdgePoint, double>? weight)
    {
        this.weight = weight;
        Blade = blade;
        Channels = channels;
        Box = box;
        ScoreFromMm = fromMm;
        ScoreToMm = toMm;
        double length = blade.Edge.LengthMm;
        double step = (toMm - fromMm) / (count - 1);
        int before = fromMm <= 1e-9 ? 0 : (int)Math.Ceiling(fromMm / step);
        int after = length - toMm <= 1e-9 ? 0 : (int)Math.Ceiling((length - toMm) / step);
        List<EdgePoint> stations = [];
        for (int i = 0; i < before; i++)
            stations.Add(blade.Edge.At(fromMm * i / before));
        FirstScored = before;
        stations.AddRange(blade.Edge.Stations(fromMm, toMm, count));
        LastScored = stations.Count - 1;
        for (int i = 1; i <= after; i++)
            stations.Add(blade.Edge.At(toMm + ((length - toMm) * i / after)));
        Stations = stations;
        Weights = [.. stations.Skip(FirstScored).Take(count).Select(s => weight?.Invoke(s) ?? 1)];
    }

    /// <summary>The piece.</summary>
    public Blade Blade { get; }

    /// <summary>The settings the clamp must serve.</summary>
    public IReadOnlyList<ClampChannel> Channels { get; }

    /// <summary>Where the pivot may stand.</summary>
    public PivotBox Box { get; }

    /// <summary>Arc length at which the scored stretch begins, mm.</summary>
    public double ScoreFromMm { get; }

    /// <summary>Arc length at which the scored stretch ends, mm.</summary>
    public double ScoreToMm { get; }

    /// <summary>All stations, heel to tip.</summary>
    public IReadOnlyList<EdgePoint> Stations { get; }

    /// <summary>Index of the first scored station.</summary>
    public int FirstScored { get; }

    /// <summary>Index of the last scored station.</summary>
    public int LastScored { get; }

    /// <summary>Weights of the scored stations; one unless told otherwise.</summary>
    public IReadOnlyList<double> Weights { get; }

    /// <summary>True where the station counts.</summary>
    public bool IsScored(int station) => station >= FirstScored && station <= LastScored;

    /// <summary>The same question over another stretch of the edge.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The stretch is not within the edge.</exception>
    public ClampProblem Over(double fromMm, double toMm)
    {
        Require.Within(fromMm, 0, Blade.Edge.LengthMm);
        Require.Within(toMm, fromMm + 1, Blade.Edge.LengthMm);
        return new(Blade, Channels, Box, fromMm, toMm, CountFor(toMm - fromMm), weight);
    }

    /// <summary>Puts a question together, or says why it cannot be asked.</summary>
    /// <param name="blade">The piece.</param>
    /// <param name="channels">One or more settings that share the clamp.</param>
    /// <param name="box">Where the pivot may stand.</param>
    /// <param name="scoreMm">The stretch of arc length that counts; null for heel to <see cref="TipAllowanceMm"/> short of the tip.</param>
    /// <param name="stations">Stations on the scored stretch; null for about one a millimetre, from <see cref="FewestStations"/> to <see cref="MostStations"/>.</param>
    /// <param name="weight">Weight of a station, above zero; null for one everywhere.</param>
    /// <param name="refusals">Why not.</param>
    public static ClampProblem? TryMake(
        Blade blade,
        IReadOnlyList<ClampChannel> channels,
        PivotBox box,
        out IReadOnlyList<Reason> refusals,
        (double FromMm, double ToMm)? scoreMm = null,
        int? stations = null,
        Func<EdgePoint, double>? weight = null)
    {
        List<Reason> reasons = [.. box.Refusals()];
        refusals = reasons;
        double length = blade.Edge.LengthMm;
        (double from, double to) = scoreMm ?? (0, length - Math.Min(TipAllowanceMm, length / 10));
        if (!(from >= 0 && to - from >= 1 && to <= length + 0.05))
        {
            reasons.Add(new("score-range", string.Create(
                CultureInfo.InvariantCulture,
                $"scoreMm is [{from}, {to}]; it should run from 0 at the heel to at most {length:0.##} (the edge's length), over at least 1 mm.")));
        }

        if (channels.Count == 0)
            reasons.Add(new("no-setting", "There is no wheel, rod or stone to set; add one to the rig."));
        foreach (ClampChannel channel in channels)
        {
            if (channel.Target.Degrees is not (> 0 and <= 60))
                reasons.Add(new("target-angle", $"angleDeg for {channel.Name} is {channel.Target}; it should be above 0 and at most 60, per side."));
            if (channel.LeastSettingMm > channel.MostSettingMm)
                reasons.Add(new("setting-range", $"The range of the {channel.Map.SettingName} for {channel.Name} ends before it begins; the smaller number comes first."));
        }

        if (reasons.Count > 0)
            return null;
        int count = stations is { } told ? Math.Clamp(told, FewestStations, MostStations) : CountFor(to - from);
        ClampProblem problem = new(blade, channels, box, from, Math.Min(to, length), count, weight);
        for (int i = 0; i < problem.Weights.Count; i++)
        {
            if (!(problem.Weights[i] > 0) || !double.IsFinite(problem.Weights[i]))
                throw new ArgumentOutOfRangeException(nameof(weight), problem.Weights[i], "A weight must be above zero; leave a stretch out by scoreMm.");
        }

        return problem;
    }

    private static int CountFor(double stretchMm) => Math.Clamp((int)Math.Ceiling(stretchMm) + 1, FewestStations, MostStations);
}
