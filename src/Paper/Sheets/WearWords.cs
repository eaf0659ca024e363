using Whetwright.Core.Fixtures;

namespace Whetwright.Paper.Sheets;

/// <summary>What the wear of wheels since they were measured does to the numbers, in words.</summary>
public static class WearWords
{
    /// <summary>Less than this reads as nothing at one decimal, mm.</summary>
    private const double LeastMm = 0.05;

    /// <summary>One sentence or three for each wheel of a setting that is foretold to have lost what a calliper sees; none where nothing is.</summary>
    /// <param name="setting">What is dialled.</param>
    /// <param name="figures">Units, decimal sign, how a day is written.</param>
    public static IReadOnlyList<WearNote> Of(SettingPlan setting, Figures figures) =>
    [
        .. setting.Clamps.SelectMany(c => c.Settings).OfType<WheelSetting>().Select(s => s.Wheel).DistinctBy(w => w.Name, StringComparer.Ordinal)
            .Where(Seen).Select(w => Words(w, figures)),
    ];

    /// <summary>Measuring it again is worth the walk: where the wear is less than the measuring was unsure of, little would be gained (chosen, not derived).</summary>
    public static bool MeasureAgain(Wheel wheel) => Seen(wheel) && wheel.WornUMm > wheel.Diameter.StandardUncertainty.Millimetres;

    private static bool Seen(Wheel wheel) => wheel.Worn is { Value.Millimetres: >= LeastMm };

    private static WearNote Words(Wheel wheel, Figures figures)
    {
        string since = wheel.MeasuredOn is { } day ? $"since it was measured on {figures.Day(day)}" : "since it was measured";
        string worn = $"{wheel.Name}: about {figures.Length(wheel.Worn!.Value.Value.Millimetres)} worn {since}, foretold from what it ground.";
        string kept = $"The number to dial keeps the measured diameter, now known to ± {figures.Length(2 * wheel.DiameterUTodayMm)} (k = 2)";
        return MeasureAgain(wheel)
            ? new($"{worn} {kept} instead of ± {figures.Length(2 * wheel.Diameter.StandardUncertainty.Millimetres)}. Measure it again.", true)
            : new($"{worn} {kept}.", false);
    }
}
