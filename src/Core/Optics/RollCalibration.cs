using System.Globalization;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Marks at one step of a holder rolled on a sine base.</summary>
/// <param name="Feeler">Thickness under one end: 0 for the flat stand; below zero where the other end was raised (positive makes the right read more).</param>
/// <param name="LeftMm">Mark on the target's left, outward from zero; null where none was read.</param>
/// <param name="RightMm">Mark on the target's right.</param>
public sealed record RollStep(Length Feeler, double? LeftMm, double? RightMm);

/// <summary>What goes with the steps.</summary>
/// <param name="SineBase">Between the two lines the holder stands on.</param>
/// <param name="FeelerUncertainty">Standard uncertainty of each feeler.</param>
/// <param name="MarkUncertainty">Standard uncertainty of each mark.</param>
/// <param name="RoughDistance">Where to start the fit; a ruler will do.</param>
public sealed record RollSetUp(MeasuredLength SineBase, Length FeelerUncertainty, Length MarkUncertainty, Length RoughDistance)
{
    /// <summary>Zero of the bare beam where it was marked; null: fitted freely, which the marks tell only weakly.</summary>
    public MeasuredLength? Zero { get; init; }

    /// <summary>True millimetres per printed millimetre of the marks.</summary>
    public double PrintScale { get; init; } = 1;
}

/// <summary>
/// Calibrates distance and zero by rolling the holder known steps, sin φ = h/base: the light must turn by twice each. Fits
/// x_R = x₀ + L·tan 2(θ_R + κφ), x_L = −x₀ + L·tan 2(θ_L − κφ) with both bevels free; κ is the base's own scale (1 within its uncertainty). No
/// reference piece. A print scale cannot be told from the distance this way, nor needs to be: the two enter as their ratio.
/// Source: sine bar, [tc9524]; 2θ, [hewitt] ch. 28.
/// </summary>
public static class RollCalibration
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "optics.distance-by-roll/1";

    /// <summary>Roll of a step: φ = asin(h/base). Source: sine bar, [tc9524] App. C.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Base not above zero, or a feeler as thick as it.</exception>
    public static Angle RollOf(Length feeler, Length sineBase)
    {
        double b = Require.Positive(sineBase.Millimetres, nameof(sineBase));
        return Angle.FromRadians(Math.Asin(Require.Within(feeler.Millimetres, -0.9 * b, 0.9 * b, nameof(feeler)) / b));
    }

    /// <summary>Fits the steps.</summary>
    /// <exception cref="ArgumentException">Too few steps or marks.</exception>
    public static RollCalibrationResult Fit(IReadOnlyList<RollStep> steps, RollSetUp setUp)
    {
        if (steps.Select(s => s.Feeler.Millimetres).Distinct().Count() < 2)
            throw new ArgumentException("steps: at least two different ones are needed, three to see whether they fit.", nameof(steps));
        bool left = steps.Any(s => s.LeftMm is not null);
        bool right = steps.Any(s => s.RightMm is not null);
        int marks = steps.Count(s => s.LeftMm is not null) + steps.Count(s => s.RightMm is not null);
        int free = 1 + (left ? 1 : 0) + (right ? 1 : 0) + (setUp.Zero is null ? 1 : 0);
        if (marks < free)
        {
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                $"steps: {marks} marks cannot tell {free} unknowns; read both sides at each step, or mark the bare beam's zero first."), nameof(steps));
        }

        NonlinearFitResult fit = Run(steps, setUp, setUp.SineBase.StandardUncertainty / setUp.SineBase.Value);
        NonlinearFitResult check = Run(steps, setUp, double.PositiveInfinity);
        double ratioU = check.UncertaintyOf(KappaIndex);
        int dof = marks - free;
        double stretch = Math.Sqrt(Math.Max(1, dof > 0 ? fit.ChiSquare / dof : 1));
        MeasuredLength distance = MeasuredLength.FromMillimetres(fit.Values[0], fit.UncertaintyOf(0) * stretch);
        double zeroU = fit.UncertaintyOf(1) * stretch;
        MeasuredLength? zero = double.IsFinite(zeroU) ? MeasuredLength.FromMillimetres(fit.Values[1], zeroU) : null;
        (double, double)? turn = double.IsFinite(ratioU) ? (check.Values[KappaIndex], ratioU) : null;
        return new(distance, zero, turn, fit.Residuals, fit.ChiSquare, dof, Reasons(fit, dof, zero, setUp), Explain(fit, steps, setUp));
    }

    private const int KappaIndex = 2;

    private static NonlinearFitResult Run(IReadOnlyList<RollStep> steps, RollSetUp setUp, double kappaUncertainty)
    {
        double rough = Require.Positive(setUp.RoughDistance.Millimetres, "RoughDistance");
        double[] phi = [.. steps.Select(s => RollOf(s.Feeler, setUp.SineBase.Value).Radians)];
        MeasuredLength? zero = setUp.Zero;
        List<Unknown> unknowns =
        [
            new("distance", rough, double.PositiveInfinity, "distance"),
            zero is { } z && z.StandardUncertainty > Length.Zero
                ? new("zero", z.Value.Millimetres, z.StandardUncertainty.Millimetres, "zero")
                : new("zero", zero?.Value.Millimetres ?? 0, zero is null ? double.PositiveInfinity : 1e-6, "zero"),
            new("roll scale", 1, Math.Max(kappaUncertainty, 1e-9), "sine base"),
            new("bevel left", 0, double.PositiveInfinity, "bevel"), new("bevel right", 0, double.PositiveInfinity, "bevel"),
        ];
        double feelerRad = setUp.FeelerUncertainty / setUp.SineBase.Value;
        unknowns.AddRange(steps.Select((s, i) => new Unknown(FormattableString.Invariant($"feeler {i + 1}"), 0,
            Math.Max(s.Feeler == Length.Zero ? 0 : feelerRad, 1e-9), "feeler")));
        List<(int Step, bool Right)> layout = [];
        List<double> observed = [];
        for (int i = 0; i < steps.Count; i++)
        {
            AddMark(steps[i].LeftMm, false, i);
            AddMark(steps[i].RightMm, true, i);
        }

        double[] start = [.. unknowns.Select(u => u.PriorMean)];
        for (int m = observed.Count - 1; m >= 0; m--)
        {
            (int step, bool isRight) = layout[m];
            double bevel = 0.5 * Math.Atan2(observed[m], rough);
            start[isRight ? 4 : 3] = isRight ? bevel - phi[step] : bevel + phi[step];
        }

        double u = Require.Positive(setUp.MarkUncertainty.Millimetres, "MarkUncertainty") * setUp.PrintScale;
        return NonlinearFit.Fit(unknowns, [.. observed], [.. observed.Select(_ => u)], Model, start);

        void AddMark(double? mark, bool isRight, int step)
        {
            if (mark is not { } mm)
                return;
            layout.Add((step, isRight));
            observed.Add(Require.Finite(mm, FormattableString.Invariant($"steps[{step}]")) * setUp.PrintScale);
        }

        double[] Model(double[] p) => [.. layout.Select(at =>
        {
            double roll = (p[KappaIndex] * phi[at.Step]) + p[5 + at.Step];
            return at.Right ? p[1] + (p[0] * Math.Tan(2 * (p[4] + roll))) : -p[1] + (p[0] * Math.Tan(2 * (p[3] - roll)));
        })];
    }

    private static List<Reason> Reasons(NonlinearFitResult fit, int dof, MeasuredLength? zero, RollSetUp setUp)
    {
        List<Reason> reasons = [];
        if (dof == 0)
            reasons.Add(new("no-residuals", "As many unknowns as marks: the fit cannot show whether the steps fit each other. Add a step."));
        if (dof > 0 && fit.ChiSquare / dof > 4)
        {
            reasons.Add(new("steps-do-not-fit", string.Create(CultureInfo.InvariantCulture,
                $"The marks miss the fitted turn by {fit.Residuals.Max(Math.Abs):0.00} mm at most, {Math.Sqrt(fit.ChiSquare / dof):0.0} times what was stated; uncertainties are stretched by as much. Wipe the feelers, seat the holder and repeat the step that misses most.")));
        }

        if (setUp.Zero is null && (zero is null || zero.Value.StandardUncertainty.Millimetres > 0.5))
            reasons.Add(new("zero-weak", "Rolling tells the zero only weakly. Take the blade out and mark where the bare beam falls."));
        return reasons;
    }

    private static Derivation Explain(NonlinearFitResult fit, IReadOnlyList<RollStep> steps, RollSetUp setUp)
    {
        double[] distance = new double[fit.Values.Count];
        distance[0] = 1;
        double[] gains = fit.Linear.GainOfObservations(distance);
        int m = 0;
        List<DerivationInput> inputs = [new("base", "sine base", setUp.SineBase.Value.Millimetres, "mm", fit.Values[0] / setUp.SineBase.Value.Millimetres)];
        for (int i = 0; i < steps.Count; i++)
        {
            string n = (i + 1).ToString(CultureInfo.InvariantCulture);
            inputs.Add(new($"h{n}", $"feeler, step {n}", steps[i].Feeler.Millimetres, "mm"));
            if (steps[i].LeftMm is { } left)
                inputs.Add(new($"xL{n}", $"left mark, step {n}", left, "mm", gains[m++] * setUp.PrintScale));
            if (steps[i].RightMm is { } right)
                inputs.Add(new($"xR{n}", $"right mark, step {n}", right, "mm", gains[m++] * setUp.PrintScale));
        }

        return new("distance", fit.Values[0], "mm", "least squares of x = ±x₀ + L·tan 2(θ ± φ), sin φ = h/base", "[hewitt] ch. 28; sine bar [tc9524]", inputs, Method);
    }
}

/// <summary>What rolling the holder tells.</summary>
/// <param name="Distance">From edge to target.</param>
/// <param name="Zero">Where the bare beam falls; null where the marks do not tell.</param>
/// <param name="TurnRatio">Turn of the light over twice the roll, fitted freely, with standard uncertainty: 1 when all is right; null where the marks do not tell it apart from the distance.</param>
/// <param name="ResidualsMm">Observed less fitted, in the order left, right of each step.</param>
/// <param name="ChiSquare">Weighted misfit.</param>
/// <param name="DegreesOfFreedom">Marks less unknowns.</param>
/// <param name="Reasons">What to mind.</param>
/// <param name="Derivation">How the distance came to be.</param>
public sealed record RollCalibrationResult(
    MeasuredLength Distance,
    MeasuredLength? Zero,
    (double Value, double Uncertainty)? TurnRatio,
    IReadOnlyList<double> ResidualsMm,
    double ChiSquare,
    int DegreesOfFreedom,
    IReadOnlyList<Reason> Reasons,
    Derivation Derivation);
