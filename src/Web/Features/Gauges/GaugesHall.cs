using Microsoft.AspNetCore.Http;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Web.Features.Kit.Rigs;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges;

/// <summary>One rig or wheel in the list.</summary>
/// <param name="Name">In words.</param>
/// <param name="Address">Its page.</param>
/// <param name="Judged">Its log.</param>
/// <param name="InForce">The correction that counts now; null for none.</param>
public sealed record GaugeLine(string Name, string Address, WheelJudged Judged, CorrectionApplied? InForce);

/// <summary>What dominates a rig's uncertainty today.</summary>
/// <param name="Name">The rig.</param>
/// <param name="Doubt">Sources.</param>
/// <param name="Bars">The same as a picture; null where nothing is known.</param>
public sealed record RigDoubt(string Name, TodaysDoubt Doubt, Drawing? Bars);

/// <summary>The room at one glance.</summary>
/// <param name="Lines">Rigs and wheels with a log.</param>
/// <param name="Doubts">Per rig in use.</param>
/// <param name="ToleranceDeg">The shop's tolerance.</param>
public sealed record GaugesModel(IReadOnlyList<GaugeLine> Lines, IReadOnlyList<RigDoubt> Doubts, double ToleranceDeg);

/// <summary>The first page of the room.</summary>
internal static class GaugesHall
{
    public static async Task<IResult> ShowAsync(GaugeBook book, GaugeQuery gauges, WearKept wear, UnitsView units, CancellationToken cancel)
    {
        GaugeLog log = await book.LogAsync(null, cancel);
        IReadOnlyDictionary<long, Workbench.WheelWorn> worn = await wear.NowAsync(cancel);
        List<RigDoubt> doubts = [];
        foreach (RigWhole rig in log.Rigs.Where(r => !r.Rig.Retired))
        {
            TodaysDoubt doubt = TodaysDoubt.Of(await gauges.LastSettingAsync(rig.Rig.Id, cancel), RigShelf.Composed(rig, worn), [.. log.Judged.Where(j => j.RigId == rig.Rig.Id)]);
            doubts.Add(new(rig.Rig.Name, doubt, Bars(doubt, rig.Rig.Name, units)));
        }

        GaugeLine[] lines = [.. log.Judged.Select(j => new GaugeLine(log.Name(j.RigId, j.WheelId), Address(j), j, InForce(log, j)))];
        return Page.Of<GaugesPage>("Gauges", new GaugesModel(lines, doubts, log.ToleranceDeg), Room.Gauges);
    }

    public static string Address(WheelJudged judged) => FormattableString.Invariant($"/gauges/rigs/{judged.RigId}/{judged.WheelId ?? 0}");

    /// <summary>The wheel's correction, else its rig's.</summary>
    public static CorrectionApplied? InForce(GaugeLog log, WheelJudged judged)
    {
        IReadOnlyList<CorrectionApplied> all = log.Rig(judged.RigId)?.Corrections ?? [];
        CorrectionApplied? own = judged.WheelId is { } wheel ? Workbench.RigOnBench.InForce(all, judged.RigId, wheel) : null;
        CorrectionApplied? counts = own is { BiasDeg: not 0 } ? own : Workbench.RigOnBench.InForce(all, judged.RigId, null);
        return counts is { BiasDeg: not 0 } ? counts : null;
    }

    public static Drawing? Bars(TodaysDoubt doubt, string rig, UnitsView units) => doubt.Sources.Count == 0 ? null
        : ShareBars.Draw([.. doubt.Sources.Take(7).Select((s, i) => new ShareBar(s.Name, s.UDeg, units.Angle(s.UDeg), i == 0))], $"What makes {rig} uncertain today", $"Largest: {doubt.Sources[0].Name}, {units.Angle(doubt.Sources[0].UDeg)}.");
}
