using Whetwright.Cli.Terminal;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Core.Visits;
using Whetwright.Formats;
using Whetwright.Formats.Results;

namespace Whetwright.Cli.Tables;

/// <summary>A whole visit on the terminal.</summary>
internal static class VisitTables
{
    public static void Write(TextWriter output, Display display, VisitPlan plan, VisitFile visit, string reference, IReadOnlyList<string> files)
    {
        output.WriteLine($"{reference}  {plan.Blade.Name}{(visit.Note is { } note ? $"\n({note})" : "")}");
        if (plan.Wish.Text is { } text)
            output.WriteLine($"Wish: {text}");
        if (plan.Wanted is { } wanted)
            output.WriteLine($"Angle to grind: {Display.Deg(wanted.LeftDeg)} left, {Display.Deg(wanted.RightDeg)} right");
        if (plan.Reading is { } reading)
        {
            output.WriteLine();
            ReadingTables.Write(output, reading);
        }

        if (plan.Setting is { Clamps.Count: > 0 } setting && plan.Wanted is { } angles)
        {
            output.WriteLine();
            double shown = setting.Clamps[0].Settings[0].Wanted.Degrees;
            SettingTables.Write(output, display, setting, double.IsFinite(shown) ? shown : angles.LeftDeg, (plan.Wish.Tolerance ?? SettingWish.UsualTolerance).Degrees);
        }

        if (plan.Section is { } section && plan.Ratios is { } ratios)
        {
            output.WriteLine();
            SectionTables.Write(output, display, section, ratios);
        }

        if (plan.PenTests.Count > 0)
        {
            output.WriteLine();
            output.WriteLine("Pen test to expect (ink on the old facet, one light touch)");
            TextTable table = new("side", "on", "first touch", "bare from the apex", "to", "of a facet");
            foreach (VisitPenTest t in plan.PenTests)
            {
                table.Row(t.Side == Side.Left ? "left" : "right", t.On, TouchTestResult.Word(t.Forecast.FirstTouch),
                    display.Mm(t.Forecast.Band.FromMm), display.Mm(t.Forecast.Band.ToMm), display.Mm(t.Forecast.Input.WidthMm));
            }

            table.Write(output);
        }

        ReasonList.Write(output, "Left out", plan.Omissions);
        ReasonList.Write(output, "For this work", plan.Cautions);
        if (files.Count > 0)
        {
            output.WriteLine();
            output.WriteLine("Written");
            foreach (string file in files)
                output.WriteLine($"  {file}");
        }
    }
}
