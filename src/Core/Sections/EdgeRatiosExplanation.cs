using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>The ratios of new edge to old as chains of formula, source and inputs, built on request.</summary>
public static class EdgeRatiosExplanation
{
    private const string Method = "sections.ratios/1";

    /// <summary>Strength and push; life too where the ratios have one and the steel is given. The angles must be those that the ratios were made from.</summary>
    /// <param name="ratios">The ratios.</param>
    /// <param name="old">Old angles.</param>
    /// <param name="made">New angles.</param>
    /// <param name="steel">Steel data, where known.</param>
    /// <param name="isDefaultFriction">True where nobody gave the friction.</param>
    public static IReadOnlyList<Derivation> Explain(
        EdgeRatios ratios, SidePair old, SidePair made, SteelData? steel = null, bool isDefaultFriction = true)
    {
        double mu = ratios.Friction;
        double before = EdgeRatios.PushForce(old, mu);
        List<Derivation> chain =
        [
            new("strength, new over old", ratios.SectionModulus, "1", "[(tan θ1L + tan θ1R)/(tan θ0L + tan θ0R)]²",
                "section modulus b t²/6, any strength-of-materials text",
                Inputs((o, m) => EdgeRatios.SectionModulusRatio(o, m), old, made), Method),
            new("push, new over old", ratios.Push, "1", "Σ tan(θ1 + atan µ)/Σ tan(θ0 + atan µ)", "wedge with friction, any statics text",
            [
                .. Inputs((o, m) => EdgeRatios.PushForce(m, mu) / EdgeRatios.PushForce(o, mu), old, made),
                new("µ", "friction", mu, "1", (PushSlope(made, mu) - (ratios.Push * PushSlope(old, mu))) / before, IsDefault: isDefaultFriction),
            ], Method),
        ];
        if (ratios.Life is { } life && steel is not null)
        {
            Derivation was = CardCutRegression.Explain(steel, old.LeftDeg + old.RightDeg), will = CardCutRegression.Explain(steel, made.LeftDeg + made.RightDeg);
            chain.Add(new("life, new over old", life, "1", "TCC1/TCC0", "[thomas2019]",
            [
                new("TCC1", "total card cut, new", will.Value, "mm", 1 / was.Value, will),
                new("TCC0", "total card cut, old", was.Value, "mm", -life / was.Value, was),
            ], Method));
        }

        return chain;
    }

    /// <summary>∂(Σ tan(θ + atan µ))/∂µ = Σ 1/(cos²(θ + atan µ)·(1 + µ²)).</summary>
    private static double PushSlope(SidePair pair, double friction)
    {
        double Of(double deg) => 1 / Math.Pow(Math.Cos(double.DegreesToRadians(deg) + Math.Atan(friction)), 2) / (1 + (friction * friction));
        return Of(pair.LeftDeg) + Of(pair.RightDeg);
    }

    /// <summary>The four angles with partials by a central difference of the ratio's own function.</summary>
    private static DerivationInput[] Inputs(Func<SidePair, SidePair, double> ratio, SidePair old, SidePair made)
    {
        const double step = 1e-4;
        double Slope(Func<double, double> along) => (along(step) - along(-step)) / (2 * step);
        return
        [
            new("θ1L", "new.leftDeg", made.LeftDeg, "deg", Slope(h => ratio(old, made with { LeftDeg = made.LeftDeg + h }))),
            new("θ1R", "new.rightDeg", made.RightDeg, "deg", Slope(h => ratio(old, made with { RightDeg = made.RightDeg + h }))),
            new("θ0L", "old.leftDeg", old.LeftDeg, "deg", Slope(h => ratio(old with { LeftDeg = old.LeftDeg + h }, made))),
            new("θ0R", "old.rightDeg", old.RightDeg, "deg", Slope(h => ratio(old with { RightDeg = old.RightDeg + h }, made))),
        ];
    }
}
