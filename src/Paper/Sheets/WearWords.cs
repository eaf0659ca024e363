using System.Globalization;
using Whetwright.Core.Fixtures;

namespace Whetwright.Paper.Sheets;

/// <summary>What the wear of a rig's wheels since they were measured does to the numbers, in words.</summary>
public static class WearWords
{
    /// <summary>One sentence for each wheel that is foretold to have lost what a calliper sees; none where nothing is.</summary>
    /// <param name="rig">The rig as it was set with; null for none.</param>
    /// <param name="figures">Units and decimal sign.</param>
    public static IReadOnlyList<string> Of(Rig? rig, Figures figures) =>
        rig is WheelAndBarRig { Wheels: { } wheels } ? [.. wheels.Where(w => w.Worn is { Value.Millimetres: >= LeastMm }).Select(w => Words(w, figures))] : [];

    /// <summary>Less than this reads as nothing at one decimal, mm.</summary>
    private const double LeastMm = 0.05;

    private static string Words(Wheel wheel, Figures figures)
    {
        string on = wheel.MeasuredOn is { } day ? "on " + day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "last";
        return $"{wheel.Name}: about {figures.Length(wheel.Worn!.Value.Value.Millimetres)} worn since it was measured {on}, measure again. "
            + $"The numbers keep what was measured, and the wheel's diameter counts as known to ± {figures.Length(2 * wheel.DiameterUTodayMm)} (k = 2; by the measuring alone ± {figures.Length(2 * wheel.Diameter.StandardUncertainty.Millimetres)}).";
    }
}
