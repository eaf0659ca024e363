using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Learning;

/// <summary>A wheel's diameter, measured.</summary>
/// <param name="When">When.</param>
/// <param name="DiameterMm">Diameter, mm.</param>
/// <param name="UMm">Standard uncertainty, above zero, mm.</param>
public readonly record struct WheelMeasured(DateTimeOffset When, double DiameterMm, double UMm);

/// <summary>Steel that a wheel took off at a visit.</summary>
/// <param name="When">When.</param>
/// <param name="SteelMm3">Steel removed, mm³.</param>
public readonly record struct WheelWorked(DateTimeOffset When, double SteelMm3);

/// <summary>A wheel dressed.</summary>
/// <param name="When">When.</param>
/// <param name="TakenMm">What it took off the diameter, where that was measured, mm.</param>
public readonly record struct WheelDressed(DateTimeOffset When, double? TakenMm);

/// <summary>What is believed of a wheel's wear before it was measured twice. Chosen, not derived.</summary>
public sealed record WheelWearPrior
{
    /// <summary>Diameter lost per 1000 mm³ of steel, mm, and as uncertain as it is large.</summary>
    public double PerThousandMm3 { get; init; } = 0.1;

    /// <summary>Diameter lost per 30 days beyond the work in the log (work nobody noted), standard deviation, mm.</summary>
    public double PerMonthMm { get; init; } = 0.05;

    /// <summary>Diameter that a dressing takes where nobody measured it, mm, and as uncertain as it is large.</summary>
    public double DressingMm { get; init; } = 0.3;

    /// <summary>How unevenly it wears: standard deviation after 1 mm of wear, mm; it grows with the root of the wear.</summary>
    public double UnevenMm { get; init; } = 0.15;

    /// <summary>The usual one.</summary>
    public static WheelWearPrior Usual { get; } = new();
}

/// <summary>
/// Regression of a wheel's diameter on the steel it took off, on time, and on its dressings:
/// D = D0 − k·V − j·T − Σ dressings − wander, all Gaussian with stated priors ([tarantola] ch. 3). The wander makes a prediction follow the last measurement and its
/// uncertainty grow with the work since.
/// </summary>
public sealed class WheelWear
{
    private const double MostDays = 3653;

    private readonly IReadOnlyList<WheelMeasured> _measured;
    private readonly IReadOnlyList<WheelWorked> _worked;
    private readonly IReadOnlyList<WheelDressed> _dressed;
    private readonly WheelWearPrior _prior;
    private readonly LinearGaussianSolution _solution;

    private WheelWear(
        IReadOnlyList<WheelMeasured> measured, IReadOnlyList<WheelWorked> worked, IReadOnlyList<WheelDressed> dressed, WheelWearPrior prior, LinearGaussianSolution solution)
    {
        (_measured, _worked, _dressed, _prior, _solution) = (measured, worked, dressed, prior, solution);
        DateTimeOffset last = worked.Count > 0 && worked[^1].When > measured[^1].When ? worked[^1].When : measured[^1].When;
        double days = Math.Max(1, (last - measured[0].When).TotalDays);
        SteelPerDayMm3 = worked.Where(w => w.When > measured[0].When).Sum(w => w.SteelMm3) / days;
        LastEvent = last;
    }

    /// <summary>Diameter lost per 1000 mm³ of steel, mm.</summary>
    public (double Value, double U) PerThousandMm3 => (_solution.Values[1], Math.Sqrt(_solution.Covariance(1, 1)));

    /// <summary>Diameter lost per 30 days beyond that, mm.</summary>
    public (double Value, double U) PerMonthMm => (_solution.Values[2], Math.Sqrt(_solution.Covariance(2, 2)));

    /// <summary>Steel per day over the log, mm³: what predictions beyond the log go by.</summary>
    public double SteelPerDayMm3 { get; }

    /// <summary>How many measurements it rests on.</summary>
    public int Measurements => _measured.Count;

    /// <summary>The last piece or measurement in the log.</summary>
    public DateTimeOffset LastEvent { get; }

    /// <summary>True while the wear rests on the guess alone.</summary>
    public bool IsGuess => _measured.Count < 2;

    /// <summary>Fits; null where the diameter was never measured.</summary>
    /// <param name="measured">Diameters of this one wheel; a new wheel begins a list of its own.</param>
    /// <param name="worked">Steel it took off.</param>
    /// <param name="dressed">Dressings.</param>
    /// <param name="prior">Null for the usual.</param>
    /// <exception cref="ArgumentOutOfRangeException">A diameter or uncertainty not above zero, or steel below zero.</exception>
    public static WheelWear? Of(
        IEnumerable<WheelMeasured> measured, IEnumerable<WheelWorked> worked, IEnumerable<WheelDressed> dressed, WheelWearPrior? prior = null)
    {
        WheelMeasured[] d = [.. measured.OrderBy(m => m.When)];
        if (d.Length == 0)
            return null;
        WheelWorked[] w = [.. worked.OrderBy(x => x.When)];
        WheelDressed[] s = [.. dressed.Where(x => x.When > d[0].When).OrderBy(x => x.When)];
        foreach (WheelMeasured m in d)
        {
            Require.Positive(m.DiameterMm, "diameterMm");
            Require.Positive(m.UMm, "uMm");
        }

        foreach (WheelWorked x in w)
            Require.NotNegative(x.SteelMm3, "steelMm3");
        prior ??= WheelWearPrior.Usual;
        List<Unknown> unknowns =
        [
            new("D0", d[0].DiameterMm, 1000, "diameter"),
            new("k", prior.PerThousandMm3, prior.PerThousandMm3, "wear by work"),
            new("j", 0, prior.PerMonthMm, "wear by time"),
        ];
        unknowns.AddRange(s.Select((x, i) => new Unknown(FormattableString.Invariant($"dressing {i}"), x.TakenMm ?? prior.DressingMm, x.TakenMm is null ? prior.DressingMm : 0.1, "dressing")));
        for (int i = 1; i < d.Length; i++)
            unknowns.Add(new(FormattableString.Invariant($"wander {i}"), 0, Math.Sqrt(Wander(d[i - 1].When, d[i].When)), "uneven wear"));
        List<LinearObservation> observations = [];
        for (int i = 0; i < d.Length; i++)
            observations.Add(new(Row(d[i].When, i), d[i].DiameterMm, [new("measuring", d[i].UMm)]));
        return new(d, w, s, prior, LinearGaussianModel.Solve(unknowns, observations));

        double[] Row(DateTimeOffset when, int wanders) => RowAt(d, w, s, when, 0, wanders);

        double Wander(DateTimeOffset from, DateTimeOffset to) => WanderVariance(prior, w, s, from, to, 0);
    }

    /// <summary>Diameter at a time with its standard uncertainty; after the log's end the work goes on at its rate.</summary>
    public MeasuredLength DiameterAt(DateTimeOffset when)
    {
        double more = Math.Max(0, (when - LastEvent).TotalDays) * SteelPerDayMm3;
        int wanders = _measured.Count - 1;
        double[] row = RowAt(_measured, _worked, _dressed, when, more, wanders);
        double variance = _measured[^1].When < when ? WanderVariance(_prior, _worked, _dressed, _measured[^1].When, when, more) : 0;
        double u = _solution.UncertaintyOf(row);
        return new(Length.FromMillimetres(_solution.ValueOf(row)), Length.FromMillimetres(Math.Sqrt((u * u) + variance)));
    }

    /// <summary>
    /// What the diameter is foretold to have lost between two times, with its standard uncertainty, mm: k·V + j·T + Σ dressings + wander over that stretch alone, so that
    /// the measuring at its start is not in it. Nothing is foretold beyond the work in the log.
    /// </summary>
    /// <param name="from">From when; the last measurement or later.</param>
    /// <param name="to">To when; not before <paramref name="from"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The stretch begins before the last measurement, or ends before it begins.</exception>
    public MeasuredLength LostBetween(DateTimeOffset from, DateTimeOffset to)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(from, _measured[^1].When);
        ArgumentOutOfRangeException.ThrowIfLessThan(to, from);
        int wanders = _measured.Count - 1;
        double[] before = RowAt(_measured, _worked, _dressed, from, 0, wanders), after = RowAt(_measured, _worked, _dressed, to, 0, wanders);
        double[] row = [.. before.Zip(after, (b, a) => b - a)];
        double u = _solution.UncertaintyOf(row);
        return new(Length.FromMillimetres(_solution.ValueOf(row)), Length.FromMillimetres(Math.Sqrt((u * u) + WanderVariance(_prior, _worked, _dressed, from, to, 0))));
    }

    /// <summary>When the wheel reaches its least diameter: best and the ends of a 95 % interval; null where that is more than ten years off.</summary>
    /// <param name="leastMm">Least diameter, mm.</param>
    /// <param name="from">From when to look.</param>
    public (DateTimeOffset? Earliest, DateTimeOffset? Best, DateTimeOffset? Latest) ReachesMinimum(double leastMm, DateTimeOffset from)
    {
        return (First(from, t => At(t, -1.96) <= leastMm), First(from, t => At(t, 0) <= leastMm), First(from, t => At(t, 1.96) <= leastMm));

        double At(DateTimeOffset when, double times)
        {
            MeasuredLength d = DiameterAt(when);
            return d.Value.Millimetres + (times * d.StandardUncertainty.Millimetres);
        }
    }

    /// <summary>When the diameter should be measured: the day on which its expanded uncertainty (k = 2) would turn the angle by more than the tolerance.</summary>
    /// <param name="degPerMm">Degrees of the angle ground per millimetre of diameter: the partial derivative from the setting's uncertainty.</param>
    /// <param name="toleranceDeg">The shop's tolerance, above zero.</param>
    /// <param name="from">From when to look; that day itself where it is due.</param>
    /// <returns>Null where it is more than ten years off.</returns>
    public DateTimeOffset? MeasureBy(double degPerMm, double toleranceDeg, DateTimeOffset from)
    {
        Require.Positive(toleranceDeg);
        return First(from, t => 2 * DiameterAt(t).StandardUncertainty.Millimetres * Math.Abs(degPerMm) > toleranceDeg);
    }

    /// <summary>How today's diameter came to be.</summary>
    public Derivation Explain(DateTimeOffset when)
    {
        MeasuredLength d = DiameterAt(when);
        double work = _worked.Where(w => w.When > _measured[0].When && w.When <= when).Sum(w => w.SteelMm3) / 1000;
        return new("wheel diameter", d.Value.Millimetres, "mm", "D = D0 − k·V − j·T − Σ dressings − wander", "[tarantola] ch. 3",
        [
            new("k", "lost per 1000 mm³ of steel", PerThousandMm3.Value, "mm", -work, IsDefault: IsGuess),
            new("V", "steel since the first measurement, 1000 mm³", work, "1", -PerThousandMm3.Value),
            new("j", "lost per 30 days beyond that", PerMonthMm.Value, "mm", -(when - _measured[0].When).TotalDays / 30, IsDefault: IsGuess),
            new("T", "months of 30 days since the first measurement", (when - _measured[0].When).TotalDays / 30, "1", -PerMonthMm.Value),
            new("u", "standard uncertainty", d.StandardUncertainty.Millimetres, "mm"),
        ], "metrology.wheel-wear/1");
    }

    /// <summary>First day on which something holds, to a tenth of a day, where it goes on holding from then on.</summary>
    private static DateTimeOffset? First(DateTimeOffset from, Func<DateTimeOffset, bool> holds)
    {
        if (holds(from))
            return from;
        double low = 0, high = 1;
        while (!holds(from.AddDays(high)))
        {
            (low, high) = (high, high * 2);
            if (low > MostDays)
                return null;
        }

        while (high - low > 0.1)
        {
            double middle = (low + high) / 2;
            (low, high) = holds(from.AddDays(middle)) ? (low, middle) : (middle, high);
        }

        return from.AddDays(high);
    }

    private static double[] RowAt(
        IReadOnlyList<WheelMeasured> measured, IReadOnlyList<WheelWorked> worked, IReadOnlyList<WheelDressed> dressed, DateTimeOffset when, double moreMm3, int wanders)
    {
        double[] row = new double[3 + dressed.Count + measured.Count - 1];
        row[0] = 1;
        row[1] = -(worked.Where(w => w.When > measured[0].When && w.When <= when).Sum(w => w.SteelMm3) + moreMm3) / 1000;
        row[2] = -(when - measured[0].When).TotalDays / 30;
        for (int i = 0; i < dressed.Count; i++)
            row[3 + i] = dressed[i].When <= when ? -1 : 0;
        for (int i = 0; i < wanders; i++)
            row[3 + dressed.Count + i] = -1;
        return row;
    }

    private static double WanderVariance(
        WheelWearPrior prior, IReadOnlyList<WheelWorked> worked, IReadOnlyList<WheelDressed> dressed, DateTimeOffset from, DateTimeOffset to, double moreMm3)
    {
        double wear = (prior.PerThousandMm3 * (worked.Where(w => w.When > from && w.When <= to).Sum(w => w.SteelMm3) + moreMm3) / 1000)
            + (prior.PerMonthMm * Math.Max(0, (to - from).TotalDays) / 30 / 2)
            + (prior.DressingMm / 4 * dressed.Count(x => x.When > from && x.When <= to));
        return Math.Max(1e-12, prior.UnevenMm * prior.UnevenMm * wear);
    }
}
