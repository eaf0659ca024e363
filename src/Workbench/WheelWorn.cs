using Whetwright.Core.Quantities;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench;

/// <summary>
/// What a wheel is foretold to have lost since its newest diameter was measured. A setting keeps the measured diameter, which it pins, and is only less sure of it: so
/// no setting goes stale by a forecast.
/// </summary>
/// <param name="Lost">Lost of the diameter, 0 or more, with its standard uncertainty, to 0.001 mm.</param>
/// <param name="MeasuredAt">When the diameter was measured, UTC.</param>
public sealed record WheelWorn(MeasuredLength Lost, DateTime MeasuredAt)
{
    /// <summary>By wheel; a wheel is missing where it was measured once, where it did no work since, or where it was never measured.</summary>
    /// <param name="wheels">Wheels in use.</param>
    /// <param name="diameters">Their diameters, corrected ones too.</param>
    /// <param name="steel">Steel each took, visit by visit.</param>
    /// <param name="now">Now, UTC.</param>
    public static IReadOnlyDictionary<long, WheelWorn> Of(
        IEnumerable<WheelKept> wheels, IReadOnlyCollection<DiameterEntry> diameters, IReadOnlyDictionary<long, IReadOnlyList<(DateTime At, double Mm3)>> steel, DateTime now)
    {
        Dictionary<long, WheelWorn> worn = [];
        foreach (WheelKept wheel in wheels)
        {
            if (steel.TryGetValue(wheel.Id, out IReadOnlyList<(DateTime At, double Mm3)>? took) && Of(WearOnBench.HistoryOf(wheel.Id, diameters), took, now) is { } lost)
                worn[wheel.Id] = lost;
        }

        return worn;
    }

    private static WheelWorn? Of(DiameterEntry[] history, IReadOnlyList<(DateTime At, double Mm3)> steel, DateTime now)
    {
        if (history is not [.., { HappenedAt: var measured }] || measured >= now || !steel.Any(s => s.Mm3 > 0 && s.At > measured && s.At <= now))
            return null;
        if (WearOnBench.Fit(history, steel) is not { IsGuess: false } wear)
            return null;
        MeasuredLength lost = wear.LostBetween(WearOnBench.Utc(measured), WearOnBench.Utc(now));
        return new(MeasuredLength.FromMillimetres(Rounded(Math.Max(0, lost.Value.Millimetres)), Rounded(lost.StandardUncertainty.Millimetres)), measured);
    }

    /// <summary>Fine enough to lose nothing, coarse enough that the numbers do not change between a page and its form (chosen, not derived).</summary>
    private static double Rounded(double mm) => Math.Round(mm, 3);
}
