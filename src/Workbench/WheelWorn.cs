using Whetwright.Core.Metrology.Learning;
using Whetwright.Core.Quantities;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench;

/// <summary>
/// What a wheel is foretold to have lost since its newest diameter was measured. A setting keeps the measured diameter, which it pins, and is only less sure of it: so
/// no setting goes stale by a forecast.
/// </summary>
/// <param name="Lost">Lost of the diameter, 0 or more, with its standard uncertainty, to 0.001 mm.</param>
/// <param name="MeasuredOn">The day in the shop on which the diameter was measured.</param>
public sealed record WheelWorn(MeasuredLength Lost, DateOnly MeasuredOn)
{
    /// <summary>By wheel; a wheel is missing where it was measured once, where it did no work since, or where it was never measured.</summary>
    /// <param name="wheels">What the book says of each.</param>
    /// <param name="now">Now, UTC.</param>
    /// <param name="localDay">The day in the shop of a time in UTC.</param>
    public static IReadOnlyDictionary<long, WheelWorn> Of(IEnumerable<WheelLog> wheels, DateTime now, Func<DateTime, DateOnly> localDay)
    {
        Dictionary<long, WheelWorn> worn = [];
        foreach (WheelLog wheel in wheels)
        {
            if (Of(wheel, now, localDay) is { } lost)
                worn[wheel.WheelId] = lost;
        }

        return worn;
    }

    private static WheelWorn? Of(WheelLog log, DateTime now, Func<DateTime, DateOnly> localDay)
    {
        if (log is not { Wear: { IsGuess: false } wear, History: [.., DiameterEntry { HappenedAt: var measured }] })
            return null;
        if (measured >= now || !log.Steel.Any(s => s.Mm3 > 0 && s.At > measured && s.At <= now))
            return null;
        MeasuredLength lost = wear.LostBetween(WheelLog.Utc(measured), WheelLog.Utc(now));
        return new(MeasuredLength.FromMillimetres(Rounded(Math.Max(0, lost.Value.Millimetres)), Rounded(lost.StandardUncertainty.Millimetres)), localDay(measured));
    }

    /// <summary>Fine enough to lose nothing, coarse enough that the numbers do not change between a page and its form (chosen, not derived).</summary>
    private static double Rounded(double mm) => Math.Round(mm, 3);
}
