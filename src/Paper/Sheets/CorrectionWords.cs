using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Paper.Sheets;

/// <summary>What a rig's learnt corrections do to the numbers, in words.</summary>
public static class CorrectionWords
{
    /// <summary>One sentence for each correction in force; none where nothing was applied.</summary>
    /// <param name="rig">The rig as it was set with; null for none.</param>
    /// <param name="figures">Decimal sign.</param>
    public static IReadOnlyList<string> Of(Rig? rig, Figures figures)
    {
        List<string> all = [];
        if (rig is WheelAndBarRig { Wheels: { } wheels })
            all.AddRange(wheels.Where(w => w.LearntCorrection is not null).Select(w => Words(w.Name, w.LearntCorrection!.Value, figures)));
        bool everyWheel = rig is WheelAndBarRig bar && bar.Wheels.All(w => w.LearntCorrection is not null);
        if (rig?.LearntCorrection is { } whole && !everyWheel)
            all.Add(Words(rig.Name.Length > 0 ? rig.Name : "the rig", whole, figures));
        return all;
    }

    private static string Words(string what, MeasuredAngle bias, Figures figures)
    {
        double deg = bias.Value.Degrees;
        return deg == 0 ? $"{what}: nothing is taken out."
            : $"{what} grinds {figures.Degrees(Math.Abs(deg), 2)} {(deg > 0 ? "steeper" : "flatter")} than it is set (± {figures.Degrees(2 * bias.StandardUncertainty.Degrees, 2)}, k = 2), by its checks: the numbers to dial take that out.";
    }
}
