using System.Collections.Concurrent;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Features.Gauges;
using Whetwright.Workbench;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>A visit with its work and its blade.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Work">Settings, touch-offs, passes, events, kit.</param>
/// <param name="Blade">The blade as it will be ground: after a repair where one was chosen.</param>
public sealed record AtWork(BenchVisit Visit, BenchWork Work, Composed<Blade> Blade)
{
    /// <summary>What the log says of the abrasives.</summary>
    public LearntRates Rates { get; init; } = LearntRates.None;

    /// <summary>By wheel, what it is foretold to have lost since it was measured.</summary>
    public IReadOnlyDictionary<long, WheelWorn> Worn { get; init; } = new Dictionary<long, WheelWorn>();

    /// <summary>A rig as it stands today: newest diameters with the wear since, corrections, how it is dialled.</summary>
    public RigOnBench RigToday(RigKept row) =>
        RigOnBench.Compose(row, Work.Diameters, [.. Work.Stands.Where(s => s.RigId == row.Id)], Work.Corrections, worn: Worn);

    /// <summary>Angles found per side; null where not known.</summary>
    public SidePair? Found { get; } = FoundAngles.Of(Visit.Piece.Kind.Reference(), Visit.Piece.Hand, Visit.ReadingFor(ReadingPurpose.Found));

    /// <summary>What the edge chosen takes off; null where the section is not known.</summary>
    public SectionResult? Section { get; } = Blade is Composed<Blade>.Ready { Value: var blade } && Visit.Aim is { } aim
        ? Candidates.Weigh(
            blade, FoundAngles.Of(Visit.Piece.Kind.Reference(), Visit.Piece.Hand, Visit.ReadingFor(ReadingPurpose.Found)),
            new(aim.LeftDeg, aim.RightDeg), aim.Source, "", aim.ToleranceDeg, aim.MicroDeg, Visit.ChipMm ?? 0).Cost
        : null;

    /// <summary>The stages on a rig.</summary>
    public StagesOnBench Stages(RigKept? row, Rig? rig) => StagesOnBench.Of(row, rig, Work.Abrasives, Section, Rates);

    /// <summary>What is dialled first: the first stage's wheel where the plan does without the rig's first.</summary>
    public DialledSetting FirstOn(RigKept row, SettingPlan plan, Rig rig)
    {
        string? begin = Stages(row, rig).Stages.FirstOrDefault(s => s.Needed)?.Wheel?.Name;
        return plan.Clamps[0].Settings.FirstOrDefault(s => SettingChange.WheelOf(s) == begin) ?? plan.Clamps[0].Settings[0];
    }

    /// <summary>Wheels of a rig that the plan does without.</summary>
    public IReadOnlyList<string> NotNeeded(RigKept? row, Rig rig) => [.. Stages(row, rig).Stages.Where(s => !s.Needed).Select(s => s.Name)];
}

/// <summary>The way in to the steps that work: as <see cref="BenchDoor"/>, with the kit.</summary>
internal sealed class WorkDoor(BenchVisitQuery visits, BenchWorkQuery works, RatesKept rates, WearKept wear)
{
    public Task<IResult> WithAsync(string tag, Func<AtWork, Task<IResult>> then, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            Composed<Blade> blade = BladeOnBench.Compose(visit.Piece, visit.Outlines, visit.Sections);
            if (blade is Composed<Blade>.Ready ready)
                blade = RepairOnBench.After(ready, visit.Aim);
            BenchWork work = await works.OfAsync(visit.Visit.Id, cancel);
            return await then(new(visit, work, blade) { Rates = await rates.NowAsync(cancel), Worn = await wear.NowAsync(cancel) });
        }, cancel);

    /// <summary>The latest fact of a kind that a form has seen, for its version.</summary>
    public async Task<string> VersionAsync<T>(BenchVisit visit, CancellationToken cancel)
        where T : VisitFact => BenchDesk.Version(await visits.LatestAsync<T>(visit.Visit.Id, cancel));

    public BenchVisitQuery Visits => visits;
}

/// <summary>Makes settings, and keeps the last ones: a page and the form on it ask for the same search twice.</summary>
internal sealed class SettingMaker
{
    private const int Kept = 64; // chosen, not derived

    private readonly ConcurrentDictionary<string, SettingOnBench> made = new(StringComparer.Ordinal);

    public SettingOnBench Make(Composed<Blade>.Ready blade, Composed<Rig>.Ready rig, AimChosen aim, Point2? pivot, CancellationToken cancel)
    {
        string key = string.Join('\n', blade.Json, rig.Json, Exact(aim.LeftDeg), Exact(aim.RightDeg), Exact(aim.ToleranceDeg), pivot is { } p ? Exact(p.X) + Exact(p.Y) : "");
        if (made.TryGetValue(key, out SettingOnBench? known))
            return known;
        SettingOnBench setting = SettingOnBench.Make(blade, rig, aim, pivot, cancel);
        if (made.Count >= Kept)
            made.Clear();
        return made[key] = setting;
    }

    private static string Exact(double value) => value.ToString("R", CultureInfo.InvariantCulture) + ";";
}
