using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>How every number of a combined reading came to be, built on request.</summary>
public static class ReadingDerivations
{
    private const string Formula = "Σ gᵢ·asReadᵢ + Σ hⱼ·priorⱼ, gains of the weighted solve C·(Σ a·y/σ² + m/u²)";

    /// <summary>Derivations of included angle, sides and roll; empty for a refused reading.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="setUp">Scale, distance and zero behind marks read by eye, so that each mark's own chain is shown; null for photographs.</param>
    public static IReadOnlyList<Derivation> Explain(CombinedReading reading, BenchSetUp? setUp = null)
    {
        if (reading.Solution is not { } solution)
            return [];
        List<Derivation> chain = [];
        if (reading.Included is not null)
            chain.Add(Of("included angle", solution.Layout.Included(), solution, setUp));
        foreach (SideReading side in reading.Sides)
        {
            Side blade = CombinedReadingReport.BladeOn(solution.Observations, side.Target);
            string word = side.Target == Side.Left ? "target left" : "target right";
            AddGrind(chain, side.Edge, "edge bevel, " + word, blade, MarkRole.Edge, solution, setUp);
            AddGrind(chain, side.Primary, "primary grind, " + word, blade, MarkRole.Primary, solution, setUp);
            AddGrind(chain, side.Micro, "micro-bevel, " + word, blade, MarkRole.Micro, solution, setUp);
        }

        if (reading.Roll is not null)
            chain.Add(Of("holder roll", CombinedReadingReport.RollWeights(solution.Layout, solution.Observations), solution, setUp));
        return chain;
    }

    /// <summary>The derivation of one bevel as read from a place on a scale.</summary>
    public static Derivation OfAsRead(ReadingObservation mark, BenchSetUp setUp)
    {
        Length distance = setUp.Instrument.Distance.Value;
        int sign = mark.Target == Side.Right ? 1 : -1;
        double perMm = double.RadiansToDegrees(DistanceSensitivity.RadiansPerMillimetre(mark.AsRead, distance));
        double perDistance = -double.RadiansToDegrees(DistanceSensitivity.RadiansPerRelativeDistance(mark.AsRead)) / distance.Millimetres;
        double scale = setUp.Instrument.PrintScale?.Across ?? 1;
        double outward = ((distance.Millimetres * Math.Tan(2 * mark.AsRead.Radians)) + (sign * setUp.Instrument.Zero.Value.Millimetres)) / scale;
        bool isDefault = setUp.Instrument.IsDefault;
        return new(
            ReadingCombination.Place(mark), mark.AsRead.Degrees, "deg", "θ = ½·atan((k·x − s·x₀)/L)", "[hewitt] ch. 28; derived in docs/conventions.md",
            [
                new("x", "place outward from zero, as printed", outward, "mm", perMm * scale),
                new("k", "print scale", scale, "1", perMm * outward, IsDefault: setUp.Instrument.PrintScale is null),
                new("s", "+1 on the right, −1 on the left", sign, "1"),
                new("x₀", "zero", setUp.Instrument.Zero.Value.Millimetres, "mm", -sign * perMm, IsDefault: isDefault),
                new("L", "distance", distance.Millimetres, "mm", perDistance, IsDefault: isDefault),
            ],
            BenchReading.Method);
    }

    private static void AddGrind(
        List<Derivation> chain, MeasuredAngle? shown, string name, Side blade, MarkRole role, ReadingSolution solution, BenchSetUp? setUp)
    {
        if (shown is not null)
            chain.Add(Of(name, solution.Layout.Grind(blade, role), solution, setUp));
    }

    private static Derivation Of(string name, double[] weights, ReadingSolution solution, BenchSetUp? setUp)
    {
        double[] gains = solution.Linear.GainOfObservations(weights);
        double[] priors = solution.Linear.GainOfPriors(weights);
        List<DerivationInput> inputs = [];
        for (int i = 0; i < gains.Length; i++)
        {
            ReadingObservation mark = solution.Observations[i];
            inputs.Add(new(FormattableString.Invariant($"asRead{i + 1}"), ReadingCombination.Place(mark), mark.AsRead.Degrees, "deg", gains[i],
                setUp is null ? null : OfAsRead(mark, setUp)));
        }

        for (int j = 0; j < priors.Length; j++)
        {
            Unknown unknown = solution.Linear.Unknowns[j];
            if (Math.Abs(priors[j]) > 1e-12)
                inputs.Add(new(FormattableString.Invariant($"prior{j + 1}"), unknown.Name, unknown.PriorMean, "deg", priors[j]));
        }

        return new(name, solution.Linear.ValueOf(weights), "deg", Formula, "[tarantola] ch. 3; [gum] 5.2", inputs, ReadingCombination.Method);
    }
}
