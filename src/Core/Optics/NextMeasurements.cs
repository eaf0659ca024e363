using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// What to measure next: each candidate is added to the marks as if it had come out as predicted, the uncertainties are solved again, and
/// the candidates are ranked by what they take off the uncertainties of included angle and sides per minute. Minutes are chosen, not derived.
/// </summary>
internal static class NextMeasurements
{
    private sealed record Candidate(string What, double Minutes, IReadOnlyList<ReadingObservation> Marks);

    /// <summary>Stands for a number that is not known at all when candidates are ranked, degrees (chosen).</summary>
    private const double NotKnownDeg = 10;

    public static IReadOnlyList<NextMeasurement> Rank(ReadingSolution now, ReadingKnowledge known, ScatterUsed scatter, bool read)
    {
        Dictionary<string, double> before = Uncertainties(now, known, scatter, read);
        List<(double Rate, NextMeasurement Next)> ranked = [];
        foreach (Candidate candidate in Candidates(now, known, read))
        {
            (ReadingSolution then, _) = ReadingCombination.Solve(candidate.Marks, known, scatter.Value);
            Dictionary<string, double> after = Uncertainties(then, known, scatter, true);
            (string quantity, double gain, double total) = Gain(before, after);
            if (quantity.Length == 0 || gain < 0.01 * before.GetValueOrDefault(quantity, NotKnownDeg))
                continue;
            Angle? was = before.TryGetValue(quantity, out double u) ? Angle.FromDegrees(u) : null;
            ranked.Add((total / candidate.Minutes, new(candidate.What, candidate.Minutes, quantity, was, Angle.FromDegrees(after[quantity]))));
        }

        return [.. ranked.OrderByDescending(r => r.Rate).Select(r => r.Next)];
    }

    private static (string Quantity, double Gain, double Total) Gain(Dictionary<string, double> before, Dictionary<string, double> after)
    {
        (string best, double gain, double total) = ("", 0.0, 0.0);
        foreach ((string quantity, double then) in after)
        {
            double less = before.GetValueOrDefault(quantity, NotKnownDeg) - then;
            total += Math.Max(0, less);
            if (less > gain)
                (best, gain) = (quantity, less);
        }

        return (best, gain, total);
    }

    private static Dictionary<string, double> Uncertainties(ReadingSolution solution, ReadingKnowledge known, ScatterUsed scatter, bool read)
    {
        Dictionary<string, double> all = new(StringComparer.Ordinal);
        ReadingLayout layout = solution.Layout;
        if (read && layout.Has(Side.Left, MarkRole.Edge) && layout.Has(Side.Right, MarkRole.Edge))
            all["included"] = solution.Included.StandardUncertainty.Degrees;
        foreach (Side target in new[] { Side.Left, Side.Right })
        {
            Side blade = CombinedReadingReport.BladeOn(solution.Observations, target);
            if (!known.HasBack && CombinedReadingReport.SideBudget(solution, blade, MarkRole.Edge, scatter.Value.Degrees) is { } budget)
                all[target == Side.Left ? "left side" : "right side"] = CombinedReadingReport.Total(budget);
        }

        return all;
    }

    private static IEnumerable<Candidate> Candidates(ReadingSolution now, ReadingKnowledge known, bool read)
    {
        IReadOnlyList<ReadingObservation> marks = now.Observations;
        int first = marks.Min(o => o.Mount);
        int next = marks.Max(o => o.Mount) + 1;
        ReadingObservation[] once = [.. marks.Where(o => o.Mount == first)];
        TipDirection tip = once[0].Tip;
        TipDirection other = tip == TipDirection.Up ? TipDirection.Down : TipDirection.Up;
        if (!read && once.FirstOrDefault(o => o.Role == MarkRole.Edge) is { } seen)
        {
            ReadingObservation twin = seen with { Target = seen.Target.Other(), Common = Mirrored(seen) };
            yield return new("read the other side's edge mark in the same mount", 1, [.. marks, twin]);
            yield break;
        }

        if (!known.HasBack)
        {
            yield return new("turn the blade end for end, clamp again and read both sides", 2,
                [.. marks, .. once.Select(o => o with { Mount = next, Tip = other, Target = o.Target.Other(), Common = Mirrored(o) })]);
            if (!marks.Any(o => o.Role == MarkRole.Primary))
                yield return new("read the two primary marks, nearest zero, in the first mount", 1, [.. marks, .. Primaries(once)]);
        }

        yield return new("clamp the same way again and read both sides", 2, [.. marks, .. once.Select(o => o with { Mount = next })]);
        yield return new("read with a scale twice as fine", 2, [.. marks.Select(o => Scaled(o, "resolution", 0.5))]);
        yield return new("find and read each mark three times more", 1.5, [.. marks.Select(o => Scaled(o, "repeat scatter", Math.Sqrt(o.Readings / (o.Readings + 3.0))))]);
        yield return new("fix the distance with a gauge spacer, to 0.2 %", 3, [.. marks.Select(Spacer)]);
        yield return new("mark three times where the bare beam falls, to a third of the present uncertainty of the zero", 2,
            [.. marks.Select(o => o with { Common = [.. o.Common.Select(c => c.Source == "zero" ? c with { DegPerU = c.DegPerU / 3 } : c)] })]);
    }

    private static IEnumerable<ReadingObservation> Primaries(ReadingObservation[] once)
    {
        foreach (Side target in new[] { Side.Left, Side.Right })
        {
            if (once.FirstOrDefault(o => o.Target == target && o.Role == MarkRole.Edge) is { } edge)
                yield return edge with { Role = MarkRole.Primary, AsRead = edge.AsRead / 8, Common = [.. edge.Common.Where(c => c.Source == "zero")] };
        }
    }

    /// <summary>The zero moves the two sides opposite ways; all else moves them alike.</summary>
    private static CommonPart[] Mirrored(ReadingObservation mark) =>
        [.. mark.Common.Select(c => c.Source == "zero" ? c with { DegPerU = -c.DegPerU } : c)];

    private static ReadingObservation Scaled(ReadingObservation mark, string source, double factor) =>
        mark with { Noise = [.. mark.Noise.Select(n => n.Source == source ? n with { UncertaintyDeg = n.UncertaintyDeg * factor } : n)] };

    private static ReadingObservation Spacer(ReadingObservation mark)
    {
        double reach = double.RadiansToDegrees(DistanceSensitivity.RadiansPerRelativeDistance(mark.AsRead)) * 0.002;
        return mark with
        {
            Common = [.. mark.Common.Select(c => c.Source == "distance" && Math.Abs(c.DegPerU) > Math.Abs(reach)
                ? c with { DegPerU = Math.CopySign(reach, c.DegPerU) }
                : c)],
        };
    }
}
