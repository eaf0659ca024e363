using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>A calibrated number of the instrument, with its derivation and what to mind.</summary>
/// <param name="Value">The length with its standard uncertainty.</param>
/// <param name="Derivation">How it came to be.</param>
/// <param name="Reasons">What to mind; empty when all is well.</param>
public sealed record CalibratedLength(MeasuredLength Value, Derivation Derivation, IReadOnlyList<Reason> Reasons);

/// <summary>Distance and zero of a target, measured without a reference piece.</summary>
public static class DistanceCalibration
{
    /// <summary>Relative standard uncertainty to which a gauge spacer fixes the distance where nothing better is told: 0.2 % (chosen default).</summary>
    public const double SpacerRelativeUncertainty = 0.002;

    /// <summary>
    /// Distance before the step: L = Δ·y₁/(y₂ − y₁), y the mark's distance from zero before and after the target moved back by Δ.
    /// The separation of a left and a right mark does as well as y, and the zero then drops out. From similar triangles.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A length not above zero, or y₂ not above y₁.</exception>
    public static CalibratedLength ByStep(MeasuredLength before, MeasuredLength after, MeasuredLength step)
    {
        double y1 = Require.Positive(before.Value.Millimetres, "before");
        double y2 = Require.Positive(after.Value.Millimetres, "after");
        Require.Positive(step.Value.Millimetres, "step");
        if (y2 <= y1)
            throw new ArgumentOutOfRangeException(nameof(after), y2, $"Must lie above the mark before the step, {y1} mm: moving the target back spreads the marks.");
        InputQuantity[] inputs = [Input("Δ", "step", step), Input("y₁", "mark before", before), Input("y₂", "mark after", after)];
        CalibratedLength distance = Make("distance", "L = Δ·y₁/(y₂ − y₁)", "derived from similar triangles", "optics.distance-by-step/1",
            inputs, x => x[0] * x[1] / (x[2] - x[1]));
        bool shortStep = step.Value < distance.Value.Value;
        return shortStep
            ? distance with
            {
                Reasons = [new("step-short", $"The step of {step.Value} is shorter than the distance of {distance.Value.Value} it is to tell: move the target back by at least that much and the distance gets surer.")],
            }
            : distance;
    }

    /// <summary>Distance from a gauge spacer between edge and target, with a known offset such as the sheet's backing: L = spacer + offset.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A distance not above zero.</exception>
    public static CalibratedLength BySpacer(MeasuredLength spacer, MeasuredLength offset = default)
    {
        bool told = spacer.StandardUncertainty > Length.Zero;
        MeasuredLength used = told ? spacer : spacer with { StandardUncertainty = spacer.Value * SpacerRelativeUncertainty };
        Require.Positive((used.Value + offset.Value).Millimetres, "spacer");
        InputQuantity[] inputs = [Input("l", "spacer", used) with { IsDefault = !told }, Input("c", "offset", offset)];
        CalibratedLength distance = Make("distance", "L = l + c", "definition", "optics.distance-by-spacer/1", inputs, x => x[0] + x[1]);
        return told ? distance : distance with { Reasons = [new("defaults-used", "Nobody told how well the spacer is known: 0.2 % stands in (a chosen default).")] };
    }

    /// <summary>
    /// Zero from marks of the bare beam: their mean, with s/√n and the resolution's own r/√12 in quadrature ([gum] 4.2, F.2.2.1). One mark
    /// alone has the resolution only.
    /// </summary>
    /// <exception cref="ArgumentException">No mark.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A mark that is not finite, a resolution not above zero.</exception>
    public static CalibratedLength ZeroFromBareBeam(IReadOnlyList<double> marksMm, Length resolution)
    {
        if (marksMm.Count == 0)
            throw new ArgumentException("Must have at least one mark of the bare beam.", nameof(marksMm));
        double fromResolution = Require.Positive(resolution.Millimetres, nameof(resolution)) / Math.Sqrt(12);
        double mean = marksMm.Count == 1 ? Require.Finite(marksMm[0], nameof(marksMm)) : TypeA.Evaluate(marksMm).Mean;
        double fromRepeats = marksMm.Count == 1 ? 0 : TypeA.Evaluate(marksMm).UncertaintyOfMean;
        InputQuantity[] inputs = [new("x̄", "mean of the bare beam's marks", mean, fromRepeats, "mm"), new("r", "resolution", 0, fromResolution, "mm")];
        CalibratedLength zero = Make("zero", "x₀ = x̄ + r", "[gum] 4.2, F.2.2.1", "optics.zero-from-bare-beam/1", inputs, x => x[0] + x[1]);
        return marksMm.Count > 1
            ? zero
            : zero with { Reasons = [new("one-mark", "One mark of the bare beam says nothing of its scatter: take the blade out and mark it three times.")] };
    }

    /// <summary>Print scale along one axis: k = measured/nominal length of the check line, dimensionless (in the derivation's unit 1).</summary>
    /// <exception cref="ArgumentOutOfRangeException">A length not above zero, or a scale off by more than a tenth, which is a wrong page setting.</exception>
    public static (double Scale, double Uncertainty, Derivation Derivation) PrintScale(Length nominal, MeasuredLength measured)
    {
        double n = Require.Positive(nominal.Millimetres, nameof(nominal));
        double m = Require.Positive(measured.Value.Millimetres, nameof(measured));
        if (Math.Abs((m / n) - 1) > 0.1)
        {
            throw new ArgumentOutOfRangeException(nameof(measured), m,
                $"Must lie within a tenth of the check line's {n} mm; print at 100 %, without fit to page, and measure again.");
        }

        InputQuantity[] inputs = [Input("m", "check line as measured", measured), new("n", "check line as drawn", n, 0, "mm")];
        PropagatedUncertainty k = Propagation.FirstOrder(x => x[0] / x[1], inputs);
        return (k.Value, k.Uncertainty, Explained("print scale", k, "1", "k = m/n", "definition", "optics.print-scale/1", inputs));
    }

    internal static Derivation Explained(
        string name, PropagatedUncertainty result, string unit, string formula, string source, string method, IReadOnlyList<InputQuantity> inputs) =>
        new(name, result.Value, unit, formula, source,
            [.. inputs.Select((q, i) => new DerivationInput(q.Symbol, q.Name, q.Value, q.Unit, result.Partials[i], IsDefault: q.IsDefault))], method);

    private static CalibratedLength Make(
        string name, string formula, string source, string method, InputQuantity[] inputs, Func<double[], double> model)
    {
        PropagatedUncertainty result = Propagation.FirstOrder(model, inputs);
        return new(MeasuredLength.FromMillimetres(result.Value, result.Uncertainty), Explained(name, result, "mm", formula, source, method, inputs), []);
    }

    private static InputQuantity Input(string symbol, string name, MeasuredLength length) =>
        new(symbol, name, length.Value.Millimetres, length.StandardUncertainty.Millimetres, "mm");
}
