using Microsoft.AspNetCore.Http;
using Whetwright.Core.Abrasives;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records.Kit;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges.Wear;

/// <summary>One wheel's wear.</summary>
/// <param name="Rig">Its rig's name.</param>
/// <param name="Wear">From the book.</param>
/// <param name="Plot">Diameter over the days with the forecast; null where nothing was measured.</param>
/// <param name="Rate">What its abrasive takes off per pass; null where nobody guessed.</param>
/// <param name="Watch">Whether it wants dressing; null where too little was ground since.</param>
/// <param name="DueNow">Measure it now.</param>
public sealed record WearLine(string Rig, WearOnBench Wear, Drawing? Plot, CuttingRate? Rate, DressWatch? Watch, bool DueNow);

/// <summary>All wheels.</summary>
/// <param name="Lines">In use.</param>
/// <param name="ToleranceDeg">The shop's tolerance.</param>
public sealed record WearModel(IReadOnlyList<WearLine> Lines, double ToleranceDeg);

/// <summary>Wear of the wheels.</summary>
internal static class WearShelf
{
    public static async Task<IResult> ShowAsync(WearBook book, UnitsView units, CancellationToken cancel)
    {
        WearLog log = await book.ReadAsync(cancel);
        WearLine[] lines =
        [
            .. log.Wheels.Select(w => new WearLine(
                w.Rig, w.Wear, Plot(w.Wear, log.Now, units), w.Wear.Wheel.AbrasiveId is { } abrasive ? log.Learnt.Rates.GetValueOrDefault(abrasive) : null,
                log.Learnt.Watches.GetValueOrDefault(w.Wear.Wheel.Id), w.Wear.MeasureBy is { } by && by <= new DateTimeOffset(log.Now, TimeSpan.Zero))),
        ];
        return Page.Of<WearPage>("Wheel wear", new WearModel(lines, log.ToleranceDeg), Room.Gauges);
    }

    private static Drawing? Plot(WearOnBench wear, DateTime now, UnitsView units)
    {
        if (wear.Wear is not { } fit || wear.History.Count == 0)
            return null;
        // From the last measurement half as far again as the history is long, a quarter of a year at least.
        DateTime from = wear.History[^1].HappenedAt;
        double days = Math.Clamp((now - wear.History[0].HappenedAt).TotalDays / 2, 90, 730);
        TimeBand[] band = [.. Enumerable.Range(0, 13).Select(i => At(from.AddDays(((now - from).TotalDays + days) * i / 12)))];
        return TimePicture.Draw($"Diameter of {wear.Wheel.Name}", [.. wear.History.Select(d => new TimePoint(d.HappenedAt, d.DiameterMm, d.UMm, d.Cause == DiameterCause.Dressed))],
            wear.Wheel.MinimumDiameterMm is { } least ? (least, "smallest to use") : null, band, mm => units.LengthNumber(mm, 0), d => units.Date(units.LocalDay(d)), "● measured   ■ dressed   - - forecast, hatched 95 %");

        TimeBand At(DateTime when)
        {
            MeasuredLength d = fit.DiameterAt(new(DateTime.SpecifyKind(when, DateTimeKind.Utc)));
            double mm = d.Value.Millimetres, u = 1.96 * d.StandardUncertainty.Millimetres;
            return new(when, mm, mm - u, mm + u);
        }
    }
}
