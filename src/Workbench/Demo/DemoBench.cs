using Whetwright.Core.Abrasives;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Demo;

/// <summary>Works a piece through the bench: every number comes from the functions that the pages call.</summary>
internal sealed class DemoBench(DemoKit kit, DemoChance chance, BenchLog log, KitDesk desk, KitQuery query)
{
    private static readonly string[] CutWords = ["clean", "clean", "clean", "catches"];
    private readonly DemoReadings readings = new(chance, log);
    private readonly DemoChance pace = new(4711); // its own, so that the story is the same whatever a change takes
    private BenchSetup? stands;

    /// <summary>What changing clamp, wheel, angle and rig truly takes at this invented bench, minutes.</summary>
    private static readonly double[] TrueMinutes = [2.6, 1.7, 1.2, 0.8];
    private readonly List<PassesWithAim> worked = [];
    private (DateTime Day, IReadOnlyList<WheelLog> Logs) wear;

    /// <summary>Does the steps up to and with the last; false where a step could not be done as planned.</summary>
    public async Task<SaveOutcome<Reading>> WorkAsync(BookContext db, long visit, DemoPiece piece, DateTime start, BenchStep last, CancellationToken cancel)
    {
        DateTime at = start;
        SectionMeasured section = DemoKit.Saved(await log.AddAsync(db, Section(visit, piece, at), cancel: cancel));
        piece.Sections.Add(section);
        if (!piece.SteelNoted && piece.Kept!.Steel is not null)
            await log.AddAsync(db, new SteelNoted { VisitId = visit, Source = "invented", HardnessHrc = 58, ChromiumCarbidePercent = 8, HappenedAt = at.AddMinutes(1), EnteredAt = at.AddMinutes(1) }, cancel: cancel);
        piece.SteelNoted = true;
        at = at.AddMinutes(3);
        Reading? found = await readings.ReadAsync(db, visit, piece, ReadingPurpose.Found, kit.InstrumentId, kit.InstrumentJson, at);
        SaveOutcome<Reading> done = found is null ? new SaveOutcome<Reading>.Refused("Marks", null, "marks would be right") : new SaveOutcome<Reading>.Saved(found);
        await MarkAsync(db, visit, BenchStep.Read, StepState.Done, at.AddSeconds(20), null);
        if (last == BenchStep.Read || BladeOnBench.Compose(piece.Kept!, [], piece.Sections) is not Composed<Blade>.Ready blade)
            return done;

        SidePair? old = FoundAngles.Of(piece.Pattern.Kind.Reference(), piece.Kept!.Hand, found);
        IReadOnlyList<Candidate> all = Candidates.For(blade.Value, old, piece.LastAim, kit.Rules, piece.Kept!, section.ChipMm ?? 0, 0.5);
        Candidate chosen = all.FirstOrDefault(c => c.Source == TargetSource.LastTime) ?? all.FirstOrDefault(c => c.Source == TargetSource.HouseRule) ?? all[0];
        if (chosen.Cost is null && all.FirstOrDefault(c => c.Cost is not null) is { } costed)
            chosen = costed;
        at = at.AddMinutes(2);
        AimChosen aim = DemoKit.Saved(await log.AddAsync(db, Aim(visit, chosen, at), cancel: cancel));
        piece.LastAim = aim;
        if (last == BenchStep.Choose)
            return done;

        long rigId = piece.HasBack ? kit.StoneRig : piece.LengthMm < 100 ? kit.RodRig : kit.BarRig;
        List<DemoStage> stages = Stages(rigId, piece, chosen);
        BenchSetup first = new(FormattableString.Invariant($"{visit}"), FormattableString.Invariant($"{rigId}"), FormattableString.Invariant($"{stages[0].Abrasive.Id}"), Math.Max(aim.LeftDeg, aim.RightDeg));
        double minutes = piece.OnRig ? Change(first) : 2;
        at = at.AddMinutes(0.7 * minutes);
        SetOnRig? set = piece.OnRig ? await SetAsync(db, visit, piece, blade, aim, rigId, at, 0.3 * minutes, cancel) : null;
        if (set is null)
        {
            stands = first with { Rig = null };
            await MarkAsync(db, visit, BenchStep.Set, StepState.Skipped, at, piece.OnRig ? "no such pose on this rig: freehand" : "by hand, with the rod that fits");
        }

        if (last == BenchStep.Set)
            return done;

        at = await GrindAsync(db, aim, piece, stages, first, set, at.AddMinutes((0.3 * minutes) + 0.5), last == BenchStep.Grind, cancel);
        if (last == BenchStep.Grind)
            return done;
        TrueEdge(piece, chosen, set is not null ? kit.TrueErrorDeg(rigId, start) : 0, set is not null ? 0.25 : 1.2);

        await EventAsync(db, visit, BenchEventKind.Stropped, at.AddMinutes(2), kit.Strop);
        if (chance.Of(0.06))
            await EventAsync(db, visit, BenchEventKind.BurrStays, at.AddMinutes(2.5), null, "two lighter passes, a degree steeper");
        await EventAsync(db, visit, BenchEventKind.BurrOff, at.AddMinutes(3), null);
        await EventAsync(db, visit, BenchEventKind.Cleaned, at.AddMinutes(4), null);
        await MarkAsync(db, visit, BenchStep.Finish, StepState.Done, at.AddMinutes(4.2), null);
        if (last == BenchStep.Finish)
            return done;
        at = at.AddMinutes(6);
        await readings.ReadAsync(db, visit, piece, ReadingPurpose.Check, kit.InstrumentId, kit.InstrumentJson, at);
        await log.AddAsync(db, new CutTest { VisitId = visit, Medium = "newsprint", Heel = chance.One(CutWords), Middle = "clean", Tip = chance.One(CutWords), HappenedAt = at, EnteredAt = at }, cancel: cancel);
        await MarkAsync(db, visit, BenchStep.Check, StepState.Done, at.AddMinutes(1), null);
        return done;
    }

    /// <summary>Minutes of a change of set-up, scattered about the truth.</summary>
    private double Change(BenchSetup to)
    {
        SetupChanges changes = BenchSetup.Between(stands, to);
        stands = to;
        return Math.Exp(pace.Normal(0.25)) * Enumerable.Range(0, TrueMinutes.Length).Where(k => changes.HasFlag((SetupChanges)(1 << k))).Sum(k => TrueMinutes[k]);
    }

    private SectionMeasured Section(long visit, DemoPiece piece, DateTime at) => new()
    {
        VisitId = visit,
        BehindEdgeMm = Math.Round(Math.Max(0.1, piece.BehindMm + chance.Normal(0.02)), 2),
        PrimaryHalfDeg = Math.Round(Math.Max(0, piece.PrimaryDeg + chance.Normal(0.15)), 1),
        LandMm = Math.Round(Math.Max(0, piece.LandMm + chance.Normal(0.003)), 3),
        ChipMm = piece.ChipMm > 0 ? Math.Round(Math.Max(0.05, piece.ChipMm + chance.Normal(0.03)), 2) : null,
        SpineMm = Math.Round(piece.SpineMm + chance.Normal(0.03), 1),
        HeightMm = Math.Round(piece.HeightMm + chance.Normal(0.1), 1),
        HappenedAt = at,
        EnteredAt = at,
    };

    private static AimChosen Aim(long visit, Candidate chosen, DateTime at) => new()
    {
        VisitId = visit,
        Source = chosen.Source,
        LeftDeg = chosen.Angles.LeftDeg,
        RightDeg = chosen.Angles.RightDeg,
        MicroDeg = chosen.MicroDeg,
        ToleranceDeg = chosen.ToleranceDeg,
        SectionJson = chosen is { Cost: { } cost, Ratios: { } ratios } ? JsonResults.Document(json => SectionChangeResult.Write(json, cost, ratios)) : null,
        Method = chosen.Cost is null ? null : Candidates.Method,
        HappenedAt = at,
        EnteredAt = at,
    };

    /// <summary>A setting that stands, and what its touch-off should measure.</summary>
    private sealed record SetOnRig(long SettingId, double ExpectedMm);

    private sealed record DemoStage(AbrasiveKept Abrasive, long? Wheel, int Left, int Right);

    private async Task<SetOnRig?> SetAsync(
        BookContext db, long visit, DemoPiece piece, Composed<Blade>.Ready blade, AimChosen aim, long rigId, DateTime at, double touchMinutes, CancellationToken cancel)
    {
        RigWhole whole = await query.RigAsync(rigId, cancel) ?? throw new InvalidOperationException("The rig went away.");
        RigOnBench rig = RigOnBench.Compose(whole.Rig, whole.Diameters, [.. whole.Stands], whole.Corrections, worn: Worn(whole, at));
        if (rig.Rig is not Composed<Rig>.Ready ready)
            return null;
        Point2? clamp = piece.Clamps.TryGetValue(rigId, out Point2 kept) ? kept : null;
        SettingOnBench made = SettingOnBench.Make(blade, ready, aim, clamp, cancel);
        if (made.Plan.Refused && Shorter(ready.Value, piece) is { } held)
            made = SettingOnBench.Make(blade, ready, aim, held, cancel);
        if (made.Plan.Refused || made.Plan.Clamps.Count == 0 || made.Plan.Clamps[0].Settings.Count == 0)
            return null;
        PlannedClamp first = made.Plan.Clamps[0];
        if (first.Pivot is { } pivot)
            piece.Clamps[rigId] = pivot;
        SettingMade setting = DemoKit.Saved(await log.AddAsync(db, made.ToFact(visit, aim.Id, rig, at, at), cancel: cancel));
        long? wheel = first.Settings[^1] is WheelSetting w ? whole.Rig.Wheels.FirstOrDefault(k => k.Name == w.Wheel.Name)?.Id : null;
        if (SettingChange.DialledMm(first.Settings[^1]) is { } dialled && rigId != kit.StoneRig)
            await desk.StandAsync(db, rigId, wheel, dialled, at, cancel: cancel);
        double expected = first.TouchOff?.DistanceMm ?? SettingChange.DialledMm(first.Settings[0]) ?? 0;
        await log.AddAsync(db, new Records.Bench.TouchOff
        {
            VisitId = visit, SettingId = setting.Id, WheelId = wheel, ExpectedMm = expected, MeasuredMm = Math.Round(expected + chance.Normal(0.15), 1), Accepted = true,
            HappenedAt = at.AddMinutes(touchMinutes), EnteredAt = at.AddMinutes(touchMinutes),
        }, cancel: cancel);
        return new(setting.Id, expected);
    }

    /// <summary>As the pages foretell it, from the passes of the days before: the regression is made once a day, to save the demo's time.</summary>
    private IReadOnlyDictionary<long, WheelWorn>? Worn(RigWhole rig, DateTime at)
    {
        if (rig.Rig.Wheels.Count == 0)
            return null;
        if (wear.Day != at.Date)
            wear = (at.Date, WheelLog.Of([rig], LearntRates.Of(worked, [.. kit.OnRig[rig.Rig.Id].Select(o => o.Abrasive)], []).Steel));
        return WheelWorn.Of(wear.Logs, at, when => ShopDays.DayOf(when, kit.Zone));
    }

    /// <summary>The clamp of a worker whose low blade would fall out of the jaw: a little less than the middle, six millimetres held.</summary>
    private static Point2? Shorter(Rig rig, DemoPiece piece) => rig switch
    {
        WheelAndBarRig { JawToPivotMm: { } jaw } => new(0.45 * piece.LengthMm, -(jaw + piece.HeightMm - 6)),
        GuidedRodRig { JawToPivotMm: { } jaw } => new(0.45 * piece.LengthMm, -(jaw + piece.HeightMm - 6)),
        _ => null,
    };

    private List<DemoStage> Stages(long rigId, DemoPiece piece, Candidate chosen)
    {
        List<(AbrasiveKept Abrasive, long? Wheel)> owned = kit.OnRig[rigId];
        List<DemoStage> stages = [];
        if (chosen.Cost is { } cost)
        {
            AbrasivePlan plan = AbrasivePlanner.Plan(
                [.. owned.Select(o => new OwnedAbrasive(o.Abrasive.Name, o.Abrasive.D50Um!.Value, CuttingRate.Guess(o.Abrasive.AreaPerPassMm2!.Value), o.Abrasive.ChangeMinutes ?? 2))],
                new(cost.Left.RemovedMm2, cost.Right.RemovedMm2, owned[^1].Abrasive.D50Um!.Value, 8));
            foreach (AbrasiveStage stage in plan.Stages)
            {
                (AbrasiveKept Abrasive, long? Wheel) with = owned.First(o => o.Abrasive.Name == stage.Abrasive.Name);
                stages.Add(new(with.Abrasive, with.Wheel, stage.PassesLeft, stage.PassesRight));
            }
        }

        if (stages.Count == 0)
            stages.Add(new(owned[^1].Abrasive, owned[^1].Wheel, piece.HasBack ? 0 : 12, 12));
        return stages;
    }

    private async Task<DateTime> GrindAsync(BookContext db, AimChosen aim, DemoPiece piece, List<DemoStage> stages, BenchSetup first, SetOnRig? set, DateTime at, bool half, CancellationToken cancel)
    {
        long visit = aim.VisitId;
        List<Passes> made = [];
        int number = 0;
        foreach ((AbrasiveKept abrasive, long? wheel, int left, int right) in stages)
        {
            number++;
            if (number > 1 && set is not null && wheel is not null)
            {
                at = at.AddSeconds(20).AddMinutes(Change(first with { Wheel = FormattableString.Invariant($"{abrasive.Id}") }));
                await log.AddAsync(db, new Records.Bench.TouchOff
                {
                    VisitId = visit, SettingId = set.SettingId, WheelId = wheel, ExpectedMm = set.ExpectedMm, MeasuredMm = Math.Round(set.ExpectedMm + pace.Normal(0.15), 1), Accepted = true,
                    HappenedAt = at, EnteredAt = at,
                }, cancel: cancel);
            }

            double hand = Math.Exp(chance.Normal(0.25));
            foreach ((string side, int planned) in ((string, int)[])[("left", left), ("right", right)])
            {
                int count = Math.Min(400, (int)Math.Round(planned * hand));
                if (count == 0)
                    continue;
                at = at.AddMinutes(0.5 + (count * 0.1));
                Passes counted = new() { VisitId = visit, AbrasiveId = abrasive.Id, WheelId = wheel, Side = side, Count = count, Stage = number, HappenedAt = at, EnteredAt = at };
                made.Add(DemoKit.Saved(await log.AddAsync(db, counted, cancel: cancel)));
                if (wheel is { } worn)
                    kit.TrueMm[worn] -= count * piece.LengthMm / 210 * chance.Between(0.0003, 0.0006);
            }

            await EventAsync(db, visit, BenchEventKind.BurrFelt, at.AddSeconds(20), null, null, number);
            if (half)
                return at;
        }

        if (made.Count > 0 && aim.SectionJson is { } section)
            worked.Add(new(visit, made[0].HappenedAt, made, section));
        await EventAsync(db, visit, BenchEventKind.Cooled, at.AddSeconds(40), null);
        await MarkAsync(db, visit, BenchStep.Grind, StepState.Done, at.AddMinutes(1), null);
        return at.AddMinutes(1);
    }

    /// <summary>What grinding truly made: the setting, the rig's own error, the hand; and what it took of the blade.</summary>
    private void TrueEdge(DemoPiece piece, Candidate chosen, double errorDeg, double handDeg)
    {
        SidePair wanted = chosen.Angles;
        double One(double deg) => deg <= 0 ? 0 : deg + errorDeg + chance.Normal(handDeg);
        piece.Edge = new(One(wanted.LeftDeg), One(wanted.RightDeg));
        if (chosen.Cost is { } cost)
        {
            piece.HeightMm -= cost.HeightLostMm;
            piece.BehindMm = Math.Clamp(cost.BehindEdgeAfterMm, 0.1, piece.SpineMm);
        }

        piece.LandMm = chance.Between(0, 0.004);
        piece.ChipMm = 0;
    }

    private Task<SaveOutcome<StepMark>> MarkAsync(BookContext db, long visit, BenchStep step, StepState state, DateTime at, string? why) =>
        log.AddAsync(db, new StepMark { VisitId = visit, Step = step, State = state, Why = why, HappenedAt = at, EnteredAt = at });

    private Task<SaveOutcome<BenchEvent>> EventAsync(BookContext db, long visit, BenchEventKind kind, DateTime at, long? abrasive, string? note = null, int? stage = null) =>
        log.AddAsync(db, new BenchEvent { VisitId = visit, Kind = kind, AbrasiveId = abrasive, Note = note, Stage = stage, HappenedAt = at, EnteredAt = at });
}
