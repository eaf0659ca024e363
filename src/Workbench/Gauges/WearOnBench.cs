using System.Text.Json;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;

namespace Whetwright.Workbench.Gauges;

/// <summary>A wheel's wear from the book.</summary>
/// <param name="Wheel">The wheel.</param>
/// <param name="History">Diameters since it was put on, oldest first.</param>
/// <param name="Wear">The regression; null where it was never measured.</param>
/// <param name="Today">What its diameter is likely to be now.</param>
/// <param name="Minimum">When it reaches its smallest: earliest, best, latest; null where no smallest is entered.</param>
/// <param name="DegPerMm">Degrees of the angle per millimetre of diameter, at the last setting; null where none was made.</param>
/// <param name="MeasureBy">When its uncertainty will have used up the tolerance; null where that is years off or cannot be told.</param>
public sealed record WearOnBench(
    WheelKept Wheel, IReadOnlyList<DiameterEntry> History, WheelWear? Wear, MeasuredLength? Today, (DateTimeOffset? Earliest, DateTimeOffset? Best, DateTimeOffset? Latest)? Minimum,
    double? DegPerMm, DateTimeOffset? MeasureBy)
{
    /// <summary>Works it out.</summary>
    /// <param name="rig">The rig with its entries.</param>
    /// <param name="wheel">The wheel.</param>
    /// <param name="steel">Steel it took, visit by visit.</param>
    /// <param name="lastSetting">The rig's last setting; null for none.</param>
    /// <param name="toleranceDeg">The shop's tolerance.</param>
    /// <param name="now">Now, UTC.</param>
    public static WearOnBench Of(RigWhole rig, WheelKept wheel, IReadOnlyList<(DateTime At, double Mm3)> steel, SettingMade? lastSetting, double toleranceDeg, DateTime now)
    {
        WheelLog log = WheelLog.Of(wheel.Id, rig.Diameters, steel);
        WheelWear? wear = log.Wear;
        double? perMm = DegPerMmOf(rig, wheel, lastSetting);
        DateTimeOffset at = WheelLog.Utc(now);
        return new(
            wheel, log.History, wear, wear?.DiameterAt(at), wear is not null && wheel.MinimumDiameterMm is { } least ? wear.ReachesMinimum(least, at) : null, perMm,
            wear is not null && perMm is { } deg and not 0 ? wear.MeasureBy(deg, toleranceDeg, at) : null);
    }

    /// <summary>The setting's own share of the wheel's diameter, over the uncertainty that it was taken with.</summary>
    private static double? DegPerMmOf(RigWhole rig, WheelKept wheel, SettingMade? last)
    {
        if (last is null || RigOnBench.Compose(rig.Rig, rig.Diameters, rig.Stands, rig.Corrections).Rig is not Composed<Rig>.Ready { Value: WheelAndBarRig made })
            return null;
        try
        {
            StoredSetting stored = StoredSetting.Of(last);
            if (made.Wheels.FirstOrDefault(w => w.Name == wheel.Name) is not { } own || stored.On(stored.Blade, made, stored.Wish).Clamps is not [var clamp, ..])
                return null;
            if (clamp.Settings.OfType<WheelSetting>().FirstOrDefault(s => s.Wheel.Name == wheel.Name) is not { } set || clamp.Pivot is not { } pivot)
                return null;
            double angle = set.AnglesDeg.Count > 0 ? double.DegreesToRadians(set.AnglesDeg[set.AnglesDeg.Count / 2]) : set.Wanted.Radians;
            double support = Math.Abs(pivot.Y);
            return double.RadiansToDegrees(WheelAndBar.SensitivityRad(own.RadiusMm, angle, support, set.OffsetMm).PerRadius / 2);
        }
        catch (Exception e) when (e is InvalidDataException or JsonException or ArgumentException)
        {
            return null;
        }
    }
}
