using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>How the new edge compares with the old one; each ratio is new over old, with its assumption.</summary>
/// <param name="SectionModulus">Lateral strength at equal distance from the apex; over 1: stronger.</param>
/// <param name="Push">Force to push the wedge apart at equal side force and friction; over 1: harder to push.</param>
/// <param name="Friction">Friction coefficient µ that was used.</param>
/// <param name="Life">Expected card cut, where the steel is known and the fit holds.</param>
/// <param name="Notes">Assumptions, defaults, and why a ratio is missing.</param>
public sealed record EdgeRatios(double SectionModulus, double Push, double Friction, double? Life, IReadOnlyList<Reason> Notes)
{
    /// <summary>Compares two pairs of facet angles.</summary>
    /// <param name="old">Old angles; a back has 0.</param>
    /// <param name="made">New angles.</param>
    /// <param name="friction">Friction coefficient, 0 or more; null takes <see cref="SectionDefaults.Friction"/>.</param>
    /// <param name="steel">Steel data, where known.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is no number or out of range.</exception>
    public static EdgeRatios Of(SidePair old, SidePair made, double? friction = null, SteelData? steel = null)
    {
        double mu = Require.Within(friction ?? SectionDefaults.Friction, 0, 2, "friction");
        Check(old, "old");
        Check(made, "new");
        (double? life, Reason? whyNot) = CardCutRegression.LifeRatio(steel, old.LeftDeg + old.RightDeg, made.LeftDeg + made.RightDeg);
        var notes = new List<Reason>
        {
            new("ratio-assumptions", "Strength: section modulus per length, as the square of the thickness at equal distance from the apex. Push: a wedge with equal pressure on both facets, flanks not counted."),
        };
        if (friction is null)
            notes.Add(new Reason("defaults-used", FormattableString.Invariant($"Friction is taken as {mu}, a default; it moves the push ratio toward 1.")));
        if (whyNot is not null)
            notes.Add(whyNot);
        if (life is not null)
            notes.Add(new Reason("life-by-regression", "Life is a ratio of card cut by a published linear fit; boards, bones and hands are not in it."));
        return new EdgeRatios(SectionModulusRatio(old, made), PushForce(made, mu) / PushForce(old, mu), mu, life, notes);
    }

    /// <summary>Ratio of section moduli: W ∝ t², t = x (tan θL + tan θR) at distance x from the apex; tan² θ for equal sides. Any strength-of-materials text, W = b t²/6.</summary>
    public static double SectionModulusRatio(SidePair old, SidePair made) => Math.Pow(Tangents(made) / Tangents(old), 2);

    /// <summary>Push per unit of side force: Σ tan(θ + atan µ) over both sides (wedge with friction, any statics text); 2 tan(θ + atan µ) for equal sides.</summary>
    public static double PushForce(SidePair angles, double friction) =>
        Math.Tan(double.DegreesToRadians(angles.LeftDeg) + Math.Atan(friction)) + Math.Tan(double.DegreesToRadians(angles.RightDeg) + Math.Atan(friction));

    private static double Tangents(SidePair pair) => Math.Tan(double.DegreesToRadians(pair.LeftDeg)) + Math.Tan(double.DegreesToRadians(pair.RightDeg));

    private static void Check(SidePair pair, string name)
    {
        Require.Within(pair.LeftDeg, 0, 60, name + ".leftDeg");
        Require.Within(pair.RightDeg, 0, 60, name + ".rightDeg");
        Require.Within(pair.LeftDeg + pair.RightDeg, 0.5, 120, name);
    }
}
