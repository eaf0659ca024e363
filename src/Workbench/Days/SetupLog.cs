using Whetwright.Core.Ordering;
using Whetwright.Records.Gauges;

namespace Whetwright.Workbench.Days;

/// <summary>
/// Changes of set-up as the log holds them: from the last thing entered before a change to the touch-off (or "dialled") that ends it, by the same person or device.
/// Where a rig has no touch-off between two abrasives, to the first pass on the next one, less what a pass takes there.
/// </summary>
/// <param name="Seen">Changes, oldest first.</param>
/// <param name="Broken">Changes left out because a pause lay in them, or no time at all.</param>
public sealed record SetupLog(IReadOnlyList<SetupSeen> Seen, int Broken)
{
    /// <summary>Longest change, minutes: what is longer holds a pause (chosen, not derived).</summary>
    public const double MostMinutes = 30;

    /// <summary>Shortest, minutes: what is shorter was entered in one go afterwards (chosen, not derived).</summary>
    public const double LeastMinutes = 0.1;

    /// <summary>Passes on an abrasive from which the time of one is told (chosen, not derived).</summary>
    public const int FewestPasses = 3;

    private const int Ahead = 500; // moments looked ahead for the first pass after a change (chosen, not derived)

    /// <summary>What the moments hold.</summary>
    /// <param name="moments">Oldest first.</param>
    /// <param name="abrasiveMinutes">Minutes typed for a change to an abrasive.</param>
    public static SetupLog Of(IReadOnlyList<BenchMoment> moments, IReadOnlyDictionary<long, double> abrasiveMinutes)
    {
        List<(DateTime At, double Minutes, SetupChanges Changes, double? Typed)> found = [];
        ILookup<long, BenchMoment> dialled = moments.Where(m => m is { Kind: BenchMomentKind.Dialled, RigId: not null }).ToLookup(m => m.RigId!.Value);
        foreach (IGrouping<string?, BenchMoment> hand in moments.GroupBy(m => m.By, StringComparer.Ordinal))
            found.AddRange(new Hand([.. hand], dialled, abrasiveMinutes).Changes());
        var whole = found.Where(f => f.Minutes is >= LeastMinutes and <= MostMinutes).OrderBy(f => f.At).ToList();
        return new([.. whole.Select(f => new SetupSeen(f.Minutes, f.Changes, f.Typed))], found.Count - whole.Count);
    }

    /// <summary>One person's moments, walked through.</summary>
    private sealed class Hand(BenchMoment[] moments, ILookup<long, BenchMoment> dialled, IReadOnlyDictionary<long, double> abrasiveMinutes)
    {
        private readonly Dictionary<long, BenchMoment> _settings = [];
        private BenchMoment? _before; // the last pass: how the bench stands

        public IEnumerable<(DateTime At, double Minutes, SetupChanges Changes, double? Typed)> Changes()
        {
            for (int at = 0; at < moments.Length; at++)
            {
                BenchMoment m = moments[at];
                if (IsSetup(m) && (at == 0 || !IsSetup(moments[at - 1]) || moments[at - 1].VisitId != m.VisitId))
                {
                    if (Run(at) is { } change)
                        yield return change;
                }
                else if (m.Kind == BenchMomentKind.Pass)
                {
                    if (Bare(at) is { } change)
                        yield return change;
                }

                if (m.Kind == BenchMomentKind.Dialled)
                    _settings[m.VisitId] = m;
                if (m.Kind == BenchMomentKind.Pass)
                    _before = m;
            }
        }

        private IEnumerable<BenchMoment> Back(int from)
        {
            for (int at = from - 1; at >= 0; at--)
                yield return moments[at];
        }

        private static bool IsSetup(BenchMoment m) => m.Kind is BenchMomentKind.Dialled or BenchMomentKind.Clamped or BenchMomentKind.TouchedOff;

        /// <summary>A run of dialling, clamping and touching off of one visit, beginning here.</summary>
        private (DateTime, double, SetupChanges, double?)? Run(int first)
        {
            long visit = moments[first].VisitId;
            int end = first;
            // Facts of one save carry one time: a mark beside the touch-off does not end the run.
            while (end + 1 < moments.Length && moments[end + 1].VisitId == visit && (IsSetup(moments[end + 1]) || moments[end + 1].At == moments[end].At && moments[end + 1].Kind != BenchMomentKind.Pass))
                end++;
            BenchMoment[] run = [.. moments[first..(end + 1)].Where(IsSetup)];
            BenchMoment? start = Back(first).FirstOrDefault(m => m.At < run[0].At);
            BenchMoment? next = moments.Skip(end + 1).Take(Ahead).TakeWhile(m => !(IsSetup(m) && m.VisitId == visit)).FirstOrDefault(m => m.VisitId == visit && m.Kind == BenchMomentKind.Pass);
            BenchMoment? setting = run.LastOrDefault(m => m.Kind == BenchMomentKind.Dialled);
            bool again = setting is not null && _settings.ContainsKey(visit); // dialled anew after a dressing or a slip: none of the four
            if (start is null || next is null || again || start.Kind == BenchMomentKind.Slipped || _before is not { } before)
                return null;
            DateTime ready = (run.LastOrDefault(m => m.Kind == BenchMomentKind.TouchedOff) ?? run[^1]).At;
            BenchSetup from = Stands(before, _settings.GetValueOrDefault(before.VisitId)), to = Stands(next, setting ?? _settings.GetValueOrDefault(visit));
            SetupChanges changes = BenchSetup.Between(from, to);
            if (run.Any(m => m.Kind == BenchMomentKind.Clamped))
                changes |= SetupChanges.Clamp;
            if (changes == SetupChanges.None || Touched(to.Rig, before.At, ready))
                return null;
            return (ready, (ready - start.At).TotalMinutes, changes, to.WheelMinutes);
        }

        /// <summary>The first pass on another abrasive of the same piece, nothing touched off before it.</summary>
        private (DateTime, double, SetupChanges, double?)? Bare(int at)
        {
            BenchMoment pass = moments[at];
            if (_before is not { } before || at == 0 || before.VisitId != pass.VisitId || IsSetup(moments[at - 1]) || pass.Count != 1)
                return null;
            BenchMoment? setting = _settings.GetValueOrDefault(pass.VisitId);
            BenchSetup to = Stands(pass, setting);
            BenchMoment[] stage = [.. moments.Skip(at).TakeWhile(m => m.VisitId == pass.VisitId && !IsSetup(m)).Where(m => m.Kind == BenchMomentKind.Pass).TakeWhile(m => m.WheelId == pass.WheelId && m.AbrasiveId == pass.AbrasiveId)];
            if (BenchSetup.Between(Stands(before, setting), to) != SetupChanges.Wheel || moments[at - 1].VisitId != pass.VisitId || stage.Length < FewestPasses || Touched(to.Rig, before.At, pass.At)
                || Back(at).TakeWhile(m => !ReferenceEquals(m, before)).Any(IsSetup))
                return null;
            double[] gaps = [.. stage.Zip(stage.Skip(1), (a, b) => (b.At - a.At).TotalMinutes).Order()];
            return (pass.At, (pass.At - moments[at - 1].At).TotalMinutes - gaps[gaps.Length / 2], SetupChanges.Wheel, to.WheelMinutes);
        }

        private BenchSetup Stands(BenchMoment pass, BenchMoment? setting) => new(
            FormattableString.Invariant($"{pass.VisitId}"), setting is null ? null : FormattableString.Invariant($"{setting.RigId}"),
            FormattableString.Invariant($"{pass.WheelId}/{pass.AbrasiveId}"), setting?.AngleDeg,
            pass.AbrasiveId is { } id && abrasiveMinutes.TryGetValue(id, out double typed) ? typed : null);

        /// <summary>Somebody else dialled the rig in between: it does not stand as this person left it.</summary>
        private bool Touched(string? rig, DateTime after, DateTime until) =>
            long.TryParse(rig, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out long id) && dialled[id].Any(m => m.By != moments[0].By && m.At > after && m.At < until);
    }
}
