using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// The same reading by Monte Carlo: marks drawn within their resolution (rectangular) and scatter, distance and zero drawn and put through the
/// exact conversion, clampings and other priors drawn, and all of it through the solve's own gains. Beside the linear solve it shows
/// whether first order was good enough. Source: [s1].
/// </summary>
public static class ReadingMonteCarlo
{
    /// <summary>Draws a reading many times. Null where the reading was refused.</summary>
    /// <exception cref="ArgumentException">Typed marks that cannot be, or fewer than 100 draws.</exception>
    public static ReadingDraws? Propagate(BenchMarks marks, int draws, int seed)
    {
        BenchObservations made = BenchReading.Observations(marks);
        if (ReadingCombination.Combine(made.Marks, made.Knowledge) is not { Solution: { } solution } reading)
            return null;
        ReadingLayout layout = solution.Layout;
        MonteCarloResult? Of(double[]? weights) => weights is not null && solution.Linear.IsIdentified(weights)
            ? new Sampler(solution, made, weights, seed).Run(draws)
            : null;
        double[]? Edge(Side blade) => layout.Has(blade, MarkRole.Edge) ? layout.Grind(blade, MarkRole.Edge) : null;
        return new(Of(reading.Included is null ? null : layout.Included()), Of(Edge(Side.Left)), Of(Edge(Side.Right)));
    }

    private sealed class Sampler
    {
        private readonly ReadingSolution _solution;
        private readonly BenchSetUp _setUp;
        private readonly double? _repeatDeg;
        private readonly BenchGroup[] _groups;
        private readonly double[] _labels;
        private readonly double[] _bevels;
        private readonly double[] _units;
        private readonly double[] _gains;
        private readonly double[] _priors;
        private readonly double _value;
        private readonly RandomDraws _random;

        public Sampler(ReadingSolution solution, BenchObservations made, double[] weights, int seed)
        {
            (_solution, _setUp, _repeatDeg, _random) = (solution, made.SetUp, made.RepeatDeg, new(seed));
            _groups = [.. solution.Observations.Select(o => made.Groups.Single(g => g.Mount == o.Mount && g.Target == o.Target && g.Role == o.Role))];
            _labels = [.. _groups.Select(g => g.Labels.Average())];
            _bevels = [.. _groups.Select((g, i) => _setUp.Bevel(_labels[i], g.Target).Degrees)];
            _units = [.. _groups.Select((g, i) => _setUp.DegPerUnit(_labels[i], g.Target))];
            _gains = solution.Linear.GainOfObservations(weights);
            _priors = solution.Linear.GainOfPriors(weights);
            _value = solution.Linear.ValueOf(weights);
        }

        public MonteCarloResult Run(int draws) => MonteCarlo.Run(draws, Draw);

        private double Draw()
        {
            MeasuredLength distance = _setUp.Instrument.Distance;
            MeasuredLength zero = _setUp.Instrument.Zero;
            Length drawnDistance = distance.Value + (distance.StandardUncertainty * _random.Normal());
            Length drawnZero = zero.Value + (zero.StandardUncertainty * _random.Normal());
            double drawn = _value;
            for (int i = 0; i < _gains.Length; i++)
            {
                BenchGroup group = _groups[i];
                double noiseDeg = group.ResolutionDeg / Math.Sqrt(12) * _random.Standard(InputDistribution.Rectangular);
                if (_repeatDeg is { } s)
                    noiseDeg += s / Math.Sqrt(group.Labels.Count) * _random.Normal();
                Angle bevel = _setUp.Bevel(_labels[i] + (noiseDeg / _units[i]), group.Target, drawnDistance, drawnZero);
                drawn += _gains[i] * (bevel.Degrees - _bevels[i]);
            }

            for (int j = 0; j < _priors.Length; j++)
            {
                Unknown unknown = _solution.Linear.Unknowns[j];
                if (_priors[j] != 0 && !unknown.Name.StartsWith("common: ", StringComparison.Ordinal))
                    drawn += _priors[j] * unknown.PriorUncertainty * _random.Normal();
            }

            return drawn;
        }
    }
}

/// <summary>Monte Carlo beside the linear solve, degrees. A null was not identified.</summary>
/// <param name="Included">Included angle.</param>
/// <param name="BladeLeft">Edge bevel of the blade's left side (tip taken as up where nobody noted it), before the floor that re-clamping puts under sides.</param>
/// <param name="BladeRight">Edge bevel of the blade's right side.</param>
public sealed record ReadingDraws(MonteCarloResult? Included, MonteCarloResult? BladeLeft, MonteCarloResult? BladeRight);
