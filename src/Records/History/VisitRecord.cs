using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Photos;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Records.History;

/// <summary>A visit with every fact that stands, each kind in the order it happened.</summary>
public sealed record VisitRecord
{
    /// <summary>The visit with piece and owner.</summary>
    public required Visit Visit { get; init; }

    /// <summary>Where it stands.</summary>
    public required VisitStanding Standing { get; init; }

    /// <summary>Mounts.</summary>
    public required IReadOnlyList<Mount> Mounts { get; init; }

    /// <summary>Readings.</summary>
    public required IReadOnlyList<Reading> Readings { get; init; }

    /// <summary>Outlines.</summary>
    public required IReadOnlyList<OutlineTaken> Outlines { get; init; }

    /// <summary>Sections measured.</summary>
    public required IReadOnlyList<SectionMeasured> Sections { get; init; }

    /// <summary>Steels noted.</summary>
    public required IReadOnlyList<SteelNoted> Steels { get; init; }

    /// <summary>Aims.</summary>
    public required IReadOnlyList<AimChosen> Aims { get; init; }

    /// <summary>Settings.</summary>
    public required IReadOnlyList<SettingMade> Settings { get; init; }

    /// <summary>Touch-offs.</summary>
    public required IReadOnlyList<TouchOff> TouchOffs { get; init; }

    /// <summary>Passes.</summary>
    public required IReadOnlyList<Passes> Passes { get; init; }

    /// <summary>Events at the bench.</summary>
    public required IReadOnlyList<BenchEvent> Events { get; init; }

    /// <summary>Marks on steps.</summary>
    public required IReadOnlyList<StepMark> Marks { get; init; }

    /// <summary>Cut tests.</summary>
    public required IReadOnlyList<CutTest> CutTests { get; init; }

    /// <summary>Notices.</summary>
    public required IReadOnlyList<ReadyNotice> Notices { get; init; }

    /// <summary>Notes.</summary>
    public required IReadOnlyList<VisitNote> Notes { get; init; }

    /// <summary>Charges.</summary>
    public required IReadOnlyList<Charge> Charges { get; init; }

    /// <summary>The hand-back; null while it is here.</summary>
    public HandBack? HandBack { get; init; }

    /// <summary>Photos.</summary>
    public required IReadOnlyList<Photo> Photos { get; init; }
}

/// <summary>Reads whole visits: one query per kind of fact, however many visits.</summary>
internal static class VisitRecords
{
    internal static async Task<IReadOnlyList<VisitRecord>> ReadAsync(BookContext db, long[] ids, CancellationToken cancel)
    {
        List<Visit> visits = await db.Visits.AsNoTracking().Include(v => v.Piece!.Owner).Include(v => v.Intake).Where(v => ids.Contains(v.Id))
            .OrderByDescending(v => v.HappenedAt).ThenByDescending(v => v.Id).ToListAsync(cancel);
        if (visits.Count == 0)
            return [];
        WheelDiameters diameters = await StandingQuery.DiametersAsync(db, cancel);
        ILookup<long, Mount> mounts = await OfAsync(db.Mounts, ids, cancel);
        ILookup<long, Reading> readings = await OfAsync(db.Readings, ids, cancel);
        ILookup<long, OutlineTaken> outlines = await OfAsync(db.Outlines, ids, cancel);
        ILookup<long, SectionMeasured> sections = await OfAsync(db.Sections, ids, cancel);
        ILookup<long, SteelNoted> steels = await OfAsync(db.Steels, ids, cancel);
        ILookup<long, AimChosen> aims = await OfAsync(db.Aims, ids, cancel);
        ILookup<long, SettingMade> settings = await OfAsync(db.Settings, ids, cancel);
        ILookup<long, TouchOff> touchOffs = await OfAsync(db.TouchOffs, ids, cancel);
        ILookup<long, Passes> passes = await OfAsync(db.Passes, ids, cancel);
        ILookup<long, BenchEvent> events = await OfAsync(db.BenchEvents, ids, cancel);
        ILookup<long, StepMark> marks = await OfAsync(db.StepMarks, ids, cancel);
        ILookup<long, CutTest> cuts = await OfAsync(db.CutTests, ids, cancel);
        ILookup<long, ReadyNotice> notices = await OfAsync(db.ReadyNotices, ids, cancel);
        ILookup<long, VisitNote> notes = await OfAsync(db.VisitNotes, ids, cancel);
        ILookup<long, Charge> charges = await OfAsync(db.Charges, ids, cancel);
        ILookup<long, HandBack> handBacks = await OfAsync(db.HandBacks, ids, cancel);
        var photos = (await db.Photos.AsNoTracking().Where(p => p.VisitId != null && ids.Contains(p.VisitId.Value)).OrderBy(p => p.Id).ToListAsync(cancel))
            .ToLookup(p => p.VisitId!.Value);
        return
        [
            .. visits.Select(v => new VisitRecord
            {
                Visit = v,
                Standing = VisitStanding.Of(
                    new VisitGlance
                    {
                        VisitId = v.Id,
                        HandedBack = v.HandBackId is not null,
                        Measured = [.. mounts[v.Id].Select(f => f.HappenedAt), .. outlines[v.Id].Select(f => f.HappenedAt), .. sections[v.Id].Select(f => f.HappenedAt)],
                        Readings = [.. readings[v.Id].Select(f => new ReadingGlance(f.HappenedAt, f.Purpose, f.Outcome))],
                        Aims = [.. aims[v.Id].Select(f => new AimGlance(f.Id, f.HappenedAt))],
                        Settings = [.. settings[v.Id].Select(f => new SettingGlance(f.Id, f.HappenedAt, f.AimId, f.DiameterIds))],
                        TouchOffs = [.. touchOffs[v.Id].Select(f => new TouchGlance(f.HappenedAt, f.SettingId, f.Accepted))],
                        Passes = [.. passes[v.Id].Select(f => new PassGlance(f.HappenedAt, f.Stage, f.AbrasiveId, f.Side, f.Count))],
                        Events = [.. events[v.Id].Select(f => new EventGlance(f.HappenedAt, f.Kind, f.Stage, f.AtPass))],
                        Marks = [.. marks[v.Id].Select(f => new MarkGlance(f.HappenedAt, f.Step, f.State))],
                        CutTests = [.. cuts[v.Id].Select(f => f.HappenedAt)],
                        ToldAt = notices[v.Id].Max(f => (DateTime?)f.HappenedAt),
                    },
                    diameters),
                Mounts = [.. mounts[v.Id]],
                Readings = [.. readings[v.Id]],
                Outlines = [.. outlines[v.Id]],
                Sections = [.. sections[v.Id]],
                Steels = [.. steels[v.Id]],
                Aims = [.. aims[v.Id]],
                Settings = [.. settings[v.Id]],
                TouchOffs = [.. touchOffs[v.Id]],
                Passes = [.. passes[v.Id]],
                Events = [.. events[v.Id]],
                Marks = [.. marks[v.Id]],
                CutTests = [.. cuts[v.Id]],
                Notices = [.. notices[v.Id]],
                Notes = [.. notes[v.Id]],
                Charges = [.. charges[v.Id]],
                HandBack = handBacks[v.Id].LastOrDefault(),
                Photos = [.. photos[v.Id]],
            }),
        ];
    }

    private static async Task<ILookup<long, T>> OfAsync<T>(IQueryable<T> facts, long[] ids, CancellationToken cancel)
        where T : VisitFact =>
        (await facts.AsNoTracking().Standing().Where(f => ids.Contains(f.VisitId)).OrderBy(f => f.HappenedAt).ThenBy(f => f.Id).ToListAsync(cancel)).ToLookup(f => f.VisitId);
}
