using System.Globalization;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Readings by eye: from typed numbers to observations, and to a combined reading.</summary>
public static class BenchReading
{
    /// <summary>Name and version of the method that turns typed numbers into bevels.</summary>
    public const string Method = "optics.bevel-from-mark/1";

    /// <summary>Combines all that was typed.</summary>
    /// <exception cref="ArgumentException">Something typed cannot be: the message names field, value and what would be right.</exception>
    public static CombinedReading Combine(BenchMarks marks)
    {
        BenchObservations made = Observations(marks);
        return ReadingCombination.Combine(made.Marks, made.Knowledge);
    }

    /// <summary>Observations of all that was typed: repeats are averaged, one wild repeat is named and left out.</summary>
    /// <exception cref="ArgumentException">Something typed cannot be: the message names field, value and what would be right.</exception>
    public static BenchObservations Observations(BenchMarks marks)
    {
        BenchMarksCheck.Check(marks);
        BenchSetUp setUp = BenchSetUp.Of(marks);
        List<BenchGroup> groups = [.. Groups(marks, setUp)];
        if (groups.Count == 0)
            throw new ArgumentException("mounts: no mark in any of them; at least one edge mark is needed.", nameof(marks));
        RepeatScatter repeats = RepeatScatter.Of(groups, marks.Assumptions);
        ReadingObservation[] made = [.. repeats.Groups.Select(g => Observation(g, setUp, repeats))];
        ReadingKnowledge known = new()
        {
            HasBack = marks.HasBack,
            TipKnown = marks.Mounts.All(m => m.Tip is not null),
            HolderRoll = marks.Instrument?.HolderRoll,
            Scatter = marks.Instrument?.Scatter,
            Priors = marks.Priors,
            Assumptions = marks.Assumptions,
            WildAmongRepeats = repeats.Wild,
            DefaultsUsed = setUp.DefaultsUsed,
        };
        return new(made, known, setUp, repeats.Groups, repeats.StandardDeviationDeg);
    }

    private static IEnumerable<BenchGroup> Groups(BenchMarks marks, BenchSetUp setUp)
    {
        for (int m = 0; m < marks.Mounts.Count; m++)
        {
            foreach (Side target in new[] { Side.Left, Side.Right })
            {
                BenchSideMarks side = marks.Mounts[m].On(target);
                int flip = BenchMarksCheck.TypedAsSheetX(marks.Scale, target, side) ? -1 : 1;
                foreach (MarkRole role in new[] { MarkRole.Edge, MarkRole.Primary, MarkRole.Micro })
                {
                    double[] labels = [.. side.Of(role).Select(v => flip * v)];
                    if (labels.Length == 0)
                        continue;
                    double[] bevels = [.. labels.Select(l => setUp.Bevel(l, target).Degrees)];
                    yield return new(m, marks.Mounts[m].Tip ?? TipDirection.Up, target, role, labels, bevels,
                        setUp.ResolutionBevelDeg(labels.Average(), target));
                }
            }
        }
    }

    private static ReadingObservation Observation(BenchGroup group, BenchSetUp setUp, RepeatScatter repeats)
    {
        Angle bevel = Angle.FromDegrees(group.BevelsDeg.Average());
        List<NoisePart> noise = [new("resolution", group.ResolutionDeg / Math.Sqrt(12))];
        if (repeats.StandardDeviationDeg is { } s)
            noise.Add(new("repeat scatter", s / Math.Sqrt(group.BevelsDeg.Count)));
        double outward = setUp.Outward(group.Labels.Average());
        return new(group.Mount, group.Tip, group.Target, group.Role, bevel, noise, setUp.Common(bevel, group.Target))
        {
            AtMm = setUp.PlaceKnown ? new Point2(group.Target == Side.Right ? outward : -outward, 0) : null,
            Readings = group.BevelsDeg.Count,
            AsTyped = string.Join(", ", group.Labels.Select(l => l.ToString("0.###", CultureInfo.InvariantCulture)))
                + (setUp.Scale == MarkScale.TargetMillimetres ? " mm" : "°"),
        };
    }
}

/// <summary>Typed marks as observations, with what stood behind them.</summary>
/// <param name="Marks">One observation per mount, side and role.</param>
/// <param name="Knowledge">What goes with them into the combination.</param>
/// <param name="SetUp">Scale, distance and zero.</param>
/// <param name="Groups">The readings behind each observation.</param>
/// <param name="RepeatDeg">Standard deviation of single readings from repeats, bevel degrees; null where nothing was repeated.</param>
public sealed record BenchObservations(
    IReadOnlyList<ReadingObservation> Marks,
    ReadingKnowledge Knowledge,
    BenchSetUp SetUp,
    IReadOnlyList<BenchGroup> Groups,
    double? RepeatDeg);

/// <summary>Repeated readings of one mark.</summary>
/// <param name="Mount">Which placing, counted from 0.</param>
/// <param name="Tip">Where the tip was (up, where nobody noted it).</param>
/// <param name="Target">Side of the target.</param>
/// <param name="Role">Which grind.</param>
/// <param name="Labels">As typed, outward.</param>
/// <param name="BevelsDeg">As bevels, degrees.</param>
/// <param name="ResolutionDeg">The finest step, in degrees of bevel here.</param>
public sealed record BenchGroup(
    int Mount, TipDirection Tip, Side Target, MarkRole Role, IReadOnlyList<double> Labels, IReadOnlyList<double> BevelsDeg, double ResolutionDeg);
