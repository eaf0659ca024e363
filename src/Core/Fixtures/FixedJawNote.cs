using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>How much the settings leave out by taking every tangent as along the jaw's line: see <see cref="FixedJawContact"/>.</summary>
internal static class FixedJawNote
{
    private const int Places = 21;

    /// <summary>The note, from the heel, the middle and the tip end of what the clamps serve; null where less than 0.01° is left out.</summary>
    public static Reason? For(IReadOnlyList<PlannedClamp> clamps, Angle tilt, Side fixedJaw)
    {
        List<string> parts = [];
        double worst = 0;
        bool cannotLie = false;
        foreach (PlannedClamp clamp in clamps)
        {
            EdgePoint[] all = [.. ClampPlanning.Scored(clamp.Search!)];
            EdgePoint[] places = [.. Enumerable.Range(0, Places).Select(i => all[i * (all.Length - 1) / (Places - 1)])];
            foreach (IGrouping<Side, WheelSetting> side in clamp.Settings.OfType<WheelSetting>().GroupBy(s => s.Side))
            {
                double[][] off = [.. side.Select(s => places.Select(e => LeftOutDeg(clamp, s, tilt, fixedJaw, e)).ToArray())];
                cannotLie |= off.Any(o => o.Any(double.IsNaN));
                double[] most = [.. Enumerable.Range(0, Places).Select(i => off.Select(o => o[i]).Where(double.IsFinite).DefaultIfEmpty(double.NaN).MaxBy(Math.Abs)).Select(d => Math.Round(d, 2) + 0.0)];
                worst = Math.Max(worst, most.Where(double.IsFinite).Select(Math.Abs).DefaultIfEmpty(0).Max());
                parts.Add(FormattableString.Invariant(
                    $"{SettingPlanner.Word(side.Key)} from {clamp.FromMm:0} to {clamp.ToMm:0} mm: {most[0]:+0.00;-0.00;0.00}° at its heel end, {most[Places / 2]:+0.00;-0.00;0.00}° in its middle, {most[^1]:+0.00;-0.00;0.00}° at its tip end"));
            }
        }

        return worst < 0.01 && !cannotLie ? null : new("turned-tangent", FormattableString.Invariant(
            $"The fixed jaw leans the blade, and where the edge turns from the jaw's line it cannot lie along the bar; the settings and deviations leave that out, and so does ±. It would grind more than shown by: {string.Join("; ", parts)}.{(cannotLie ? " At places the edge cannot lie against the wheel at all." : "")} The shim removes it."));
    }

    /// <summary>α in space less α of the closed form, degrees; NaN where there is no pose.</summary>
    private static double LeftOutDeg(PlannedClamp clamp, WheelSetting setting, Angle tilt, Side fixedJaw, EdgePoint e)
    {
        Point2 pivot = clamp.Pivot!.Value;
        double offset = setting.OffsetMm;
        double exact = FixedJawContact.AngleRad(
            setting.Wheel.RadiusMm, setting.BarCentreToAxisMm, pivot, offset, Grip.Sign(setting.Side, fixedJaw) * tilt.Radians,
            double.DegreesToRadians(clamp.Jaw!.PlaneTiltDeg), e.Place, new(e.TangentX, e.TangentY));
        return double.RadiansToDegrees(exact - WheelAndBar.AngleRad(setting.Wheel.RadiusMm, setting.BarCentreToAxisMm, e.SupportDistanceMm(pivot), offset));
    }
}
