using Whetwright.Cli.Terminal;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Tables;

/// <summary>What to dial, on the terminal.</summary>
internal static class SettingTables
{
    public static void Write(TextWriter output, Display display, SettingPlan plan, double wantedDeg, double toleranceDeg)
    {
        output.WriteLine("Setting");
        for (int i = 0; i < plan.Clamps.Count; i++)
        {
            if (i > 0)
                output.WriteLine();
            WriteClamp(output, display, plan.Clamps[i], plan.Clamps.Count > 1 ? i + 1 : 0);
            AnglePlot.Write(output, plan.Clamps[i], wantedDeg, toleranceDeg);
        }

        output.WriteLine();
        if (plan.UDeg is { } u)
            output.WriteLine($"  what will be ground is sure to {Display.Deg(2 * u)} (k = 2)");
        if (plan.ShimMm is { } shim)
            output.WriteLine($"  a shim of {display.Mm(shim)} at the jaw's mouth squares the fixed jaw");
        if (plan.HandForceN is { } force)
            output.WriteLine($"  hand force that keeps the tolerance against flex: {Display.Number(force, 0)} N (an estimate)");
        if (plan.Budget.Count > 0)
        {
            output.WriteLine();
            TextTable budget = new("uncertainty from", "u (k = 1)");
            foreach (var share in plan.Budget)
                budget.Row(share.Source, Display.Deg(share.Uncertainty, 3));
            budget.Write(output);
        }

        ReasonList.Write(output, "Measure next", plan.MeasureNext.Select(m => $"{m.What} (then u = {Display.Deg(m.UAfterDeg)})"));
        ReasonList.Write(output, "Mind", [.. plan.Refusals, .. plan.Notes]);
        ReasonList.Write(output, "Defaults that nobody measured", plan.Defaults.Select(d => $"{d.Field} = {d.Value}: {d.Why}"));
        ReasonList.Write(output, "Cautions", plan.Cautions);
    }

    private static void WriteClamp(TextWriter output, Display display, PlannedClamp clamp, int number)
    {
        string name = number == 0 ? "clamp" : FormattableString.Invariant($"clamp {number}");
        output.WriteLine($"  {name}, for {display.Mm(clamp.FromMm, 1)} to {display.Mm(clamp.ToMm, 1)} along the edge from the heel");
        if (clamp.Jaw is { } jaw)
            output.WriteLine($"  jaw {display.Mm(jaw.FromHeelMm, 1)} from the heel, edge standing out {display.Mm(jaw.ProtrusionMm, 1)}, turned in its plane {Display.Deg(jaw.PlaneTiltDeg)}");
        if (clamp.Pivot is { } pivot)
            output.WriteLine($"  pivot at x {display.Mm(pivot.X, 1)}, {display.Mm(-pivot.Y, 1)} behind the edge");
        if (clamp.Search is not null)
            output.WriteLine($"  largest deviation along the scored edge {Display.Deg(clamp.WorstDeg, 3)}; {(clamp.BoundDeg is { } bound ? $"no clamp of this rig is better than {Display.Deg(bound, 3)} (proved)" : "a given clamp: no bound")}");
        else
            output.WriteLine("  the guide's angle is taken to be the same along the whole edge, not computed");
        output.WriteLine($"  {Clears(clamp)}");
        if (clamp.TouchOff is { } touch)
            output.WriteLine($"  touch-off: {touch.What}, {display.Mm(touch.AtMm, 0)} from the heel: {display.Mm(touch.DistanceMm)}");
        output.WriteLine();
        TextTable table = (clamp.Settings.Count > 0 ? clamp.Settings[0] : null) switch
        {
            WheelSetting => new("wheel", "diameter", "side", "angle", "far side of bar to wheel", "bar centre to axis", "bar travel from now", "turns", "± (k = 2)"),
            RodSetting => new("side", "angle", "pivot height", "change from now", "± (k = 2)"),
            LiftSetting => new("side", "angle", "lift", "at", "± (k = 2)"),
            _ => new("side", "angle", "mark", "± (k = 2)"),
        };
        foreach (DialledSetting s in clamp.Settings)
        {
            string side = s.Side == Side.Left ? "left" : "right";
            string? angle = Display.Deg(s.Wanted.Degrees), u = Display.Deg(2 * s.UDeg);
            switch (s)
            {
                case WheelSetting w:
                    table.Row(w.Wheel.Name, display.Mm(w.Wheel.Diameter.Value.Millimetres), side, angle, display.Mm(w.BarFarSideToWheelMm), display.Mm(w.BarCentreToAxisMm),
                        display.Travel(w.BarTravelMm), w.Turns is { } t ? Display.Number(t, 2) : null, u);
                    break;
                case RodSetting r:
                    table.Row(side, angle, display.Mm(r.PivotHeightMm), display.Travel(r.ChangeMm), u);
                    break;
                case LiftSetting l:
                    table.Row(side, angle, display.Mm(l.LiftMm), display.Mm(l.AtMm, 0), u);
                    break;
                case MarkSetting m:
                    table.Row(side, angle, Display.Deg(m.Marked.Degrees), u);
                    break;
            }
        }

        table.Write(output);
    }

    private static string Clears(PlannedClamp clamp) => clamp.Clears switch
    {
        null => "whether the jaw clears is not known: it is not described",
        { Clears: true } => "jaw, spine and handle clear",
        { } verdict => $"the {verdict.What} does not clear: smallest angle {Display.Deg(verdict.SmallestDeg, 1)}",
    };
}
