using System.Globalization;
using Whetwright.Core.Fixtures;

namespace Whetwright.Workbench;

/// <summary>A touch-off as measured, and what its difference would do to the angle.</summary>
/// <param name="ExpectedMm">What it must measure.</param>
/// <param name="MeasuredMm">What it measured.</param>
/// <param name="OffDeg">How much steeper (positive) or flatter it would grind, at the setting where that is most; NaN where there would be no pose.</param>
/// <param name="Where">That setting: wheel and side.</param>
/// <param name="ToleranceDeg">The aim's tolerance.</param>
/// <param name="ToleranceMm">The difference that would use it up, to first order.</param>
public sealed record TouchOffJudged(double ExpectedMm, double MeasuredMm, double OffDeg, string Where, double ToleranceDeg, double ToleranceMm)
{
    /// <summary>Measured less expected, mm.</summary>
    public double OffMm => MeasuredMm - ExpectedMm;

    /// <summary>The angle stays within the aim's tolerance.</summary>
    public bool Fits => Math.Abs(OffDeg) <= ToleranceDeg;

    /// <summary>What it means, in degrees.</summary>
    public string Meaning => double.IsNaN(OffDeg)
        ? "no pose: the blade would not reach the abrasive so"
        : Math.Abs(OffDeg) < 0.005 ? "the angle as set"
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(OffDeg):0.00}° {(OffDeg > 0 ? "steeper" : "flatter")} than set{(Where.Length > 0 ? " on " + Where : "")}");

    /// <summary>
    /// Judges it: α at the distance measured less α at the one expected, with what is dialled left alone, by the fixture's own formula. Null where the rig has
    /// no such distance.
    /// </summary>
    /// <param name="clamp">The clamp as planned.</param>
    /// <param name="rig">The rig.</param>
    /// <param name="measuredMm">Measured.</param>
    /// <param name="toleranceDeg">The aim's tolerance, above 0.</param>
    public static TouchOffJudged? Of(PlannedClamp clamp, Rig rig, double measuredMm, double toleranceDeg)
    {
        if (clamp.TouchOff is not { } touch || clamp.Settings.Count == 0)
            return null;
        double worst = 0, steepest = 0;
        string where = "";
        foreach (DialledSetting setting in clamp.Settings)
        {
            double off = AngleDeg(setting, clamp, rig, measuredMm) - AngleDeg(setting, clamp, rig, touch.DistanceMm);
            const double step = 0.01;
            double slope = (AngleDeg(setting, clamp, rig, touch.DistanceMm + step) - AngleDeg(setting, clamp, rig, touch.DistanceMm - step)) / (2 * step);
            steepest = Math.Max(steepest, Math.Abs(slope));
            if (double.IsNaN(worst) || (Math.Abs(off) <= Math.Abs(worst) && where.Length > 0))
                continue;
            (worst, where) = (off, Name(setting));
        }

        return new(touch.DistanceMm, measuredMm, worst, where, toleranceDeg, toleranceDeg / steepest);
    }

    private static double AngleDeg(DialledSetting setting, PlannedClamp clamp, Rig rig, double distanceMm) => setting switch
    {
        WheelSetting w when rig is WheelAndBarRig wheels => double.RadiansToDegrees(WheelAndBar.AngleRad(
            w.Wheel.RadiusMm, w.BarCentreToAxisMm, Support(distanceMm - wheels.BarRadiusMm, ((WheelSetting)clamp.Settings[0]).OffsetMm), w.OffsetMm)),
        RodSetting r when rig is GuidedRodRig rod => double.RadiansToDegrees(GuidedRod.AngleRad(r.PivotHeightMm, distanceMm, rod.FaceOffsetMm ?? 0)),
        _ => double.NaN,
    };

    /// <summary>p = √(reach² − Q²): the touch-off is measured square to the edge from the bar's far side.</summary>
    private static double Support(double reachMm, double offsetMm) => Math.Sqrt((reachMm * reachMm) - (offsetMm * offsetMm));

    private static string Name(DialledSetting setting) => SettingChange.WheelOf(setting) is { } wheel
        ? $"{wheel}, {(setting.Side == Core.Quantities.Side.Left ? "left" : "right")}"
        : setting.Side == Core.Quantities.Side.Left ? "the left" : "the right";
}
