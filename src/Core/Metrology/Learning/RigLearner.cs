namespace Whetwright.Core.Metrology.Learning;

/// <summary>Goes through the log of one rig, oldest piece first.</summary>
internal sealed class RigLearner(IReadOnlyList<SetGot> log, int[] pieces, LearningPrior prior, IReadOnlyList<KnownChange> changes)
{
    /// <summary>Pieces back that a step is looked for (chosen, not derived).</summary>
    private const int LookBack = 15;

    /// <summary>Pieces that today's view of a step may differ from where it was first put (chosen, not derived).</summary>
    private const int MayMove = 10;

    private readonly string[] _wheels = [.. pieces.Select(i => log[i].Wheel).Distinct(StringComparer.Ordinal)];
    private readonly List<LearningTrace> _trace = [];
    private readonly List<(int NoticedAt, int At)> _noticed = [];
    private readonly int[] _count = new int[pieces.Select(i => log[i].Wheel).Distinct(StringComparer.Ordinal).Count() + 1];

    public LearntRig Run()
    {
        BiasMixture mixture = new(prior, _wheels.Length);
        int change = 0;
        for (int t = 0; t < pieces.Length; t++)
        {
            SetGot piece = log[pieces[t]];
            for (; change < changes.Count && changes[change].When <= piece.When; change++)
            {
                int component = changes[change].Wheel is { } named ? Array.IndexOf(_wheels, named) + 1 : 0;
                if (t > 0 && (component > 0 || changes[change].Wheel is null))
                    mixture.Loosen(component);
            }

            int wheel = Array.IndexOf(_wheels, piece.Wheel) + 1;
            double wild = mixture.Take(t, wheel, piece.DifferenceDeg, piece.UDeg, mayStep: t > 0);
            _count[wheel]++;
            double step = Notice(mixture, t);
            (double bias, double u) = mixture.Bias(wheel);
            _trace.Add(new(pieces[t], piece.DifferenceDeg, bias, u, step, wild, piece.CorrectionInForceDeg, IsClear(wheel, bias, u, piece.CorrectionInForceDeg)));
        }

        (double mean, double meanU) = mixture.Rig();
        return new(log[pieces[0]].Rig, mean, meanU, mixture.Scatter(), [.. Enumerable.Range(1, _wheels.Length).Select(w => Wheel(mixture, w))],
            [.. _noticed.Select(n => Told(mixture, n.NoticedAt, n.At))], _trace)
        {
            Cumulative = mixture.RigBelow,
        };
    }

    private bool IsClear(int wheel, double bias, double u, double inForce) =>
        _count[wheel] >= BiasLearning.LeastPieces && Math.Abs(bias - inForce) >= BiasLearning.ClearTimes * u;

    private LearntWheel Wheel(BiasMixture mixture, int wheel)
    {
        (double bias, double u) = mixture.Bias(wheel);
        string name = _wheels[wheel - 1];
        double inForce = log[pieces.Last(i => string.Equals(log[i].Wheel, name, StringComparison.Ordinal))].CorrectionInForceDeg;
        return new(log[pieces[0]].Rig, name, _count[wheel], bias, u, (mixture.Quantile(wheel, 0.025), mixture.Quantile(wheel, 0.975)),
            inForce, IsClear(wheel, bias, u, inForce) ? bias : null)
        {
            Cumulative = x => mixture.Below(wheel, x),
        };
    }

    /// <summary>Chance of a step since the last one noticed; puts it on the list once it is likelier than not.</summary>
    private double Notice(BiasMixture mixture, int t)
    {
        int since = Math.Max(_noticed.Count > 0 ? _noticed[^1].NoticedAt : 0, t - LookBack);
        Dictionary<int, double> places = [];
        double likely = 0;
        foreach (BiasHypothesis h in mixture.All)
        {
            if (h.Step is not { } step || step.At <= since)
                continue;
            likely += h.Weight;
            places[step.At] = places.GetValueOrDefault(step.At) + h.Weight;
        }

        if (likely > BiasLearning.NoticeAbove)
            _noticed.Add((t, places.MaxBy(p => p.Value).Key));
        return likely;
    }

    private StepFound Told(BiasMixture mixture, int noticedAt, int at)
    {
        double total = 0, ofWheel = 0, size = 0, square = 0;
        Dictionary<(int At, int Wheel), double> places = [];
        foreach (BiasHypothesis h in mixture.All)
        {
            if (Nearest(h.Step, at, noticedAt) is not { } step)
                continue;
            total += h.Weight;
            ofWheel += step.OfWheel ? h.Weight : 0;
            places[(step.At, step.Wheel)] = places.GetValueOrDefault((step.At, step.Wheel)) + h.Weight;
            double change = (step.AfterMean ?? h.BiasOf(step.Wheel)) - step.BeforeMean;
            double variance = step.BeforeVariance + (step.AfterMean is null ? h.VarianceOf(step.Wheel) : step.AfterVariance);
            size += h.Weight * change;
            square += h.Weight * (variance + (change * change));
        }

        if (!(total > 1e-9))
        {
            SetGot then = log[pieces[at]];
            return new(pieces[at], pieces[noticedAt], then.When, then.Rig, then.Wheel, StepOf.RigOrWheel, 0, double.PositiveInfinity, 0);
        }

        (int Place, int W) = places.MaxBy(p => p.Value).Key;
        double mean = size / total;
        StepOf of = _wheels.Length == 1 ? StepOf.RigOrWheel : (ofWheel / total) switch { > 0.8 => StepOf.Wheel, < 0.2 => StepOf.Rig, _ => StepOf.RigOrWheel };
        return new(pieces[Place], pieces[noticedAt], log[pieces[Place]].When, log[pieces[Place]].Rig, _wheels[W - 1], of,
            mean, Math.Sqrt(Math.Max(0, (square / total) - (mean * mean))), total);
    }

    private static StepMark? Nearest(StepMark? step, int at, int noticedAt)
    {
        StepMark? best = null;
        for (; step is not null; step = step.Earlier)
        {
            if (Math.Abs(step.At - at) <= MayMove && step.At <= noticedAt && (best is null || Math.Abs(step.At - at) < Math.Abs(best.At - at)))
                best = step;
        }

        return best;
    }
}
