using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Results;

namespace Whetwright.Cli.Tables;

/// <summary>A combined reading on the terminal.</summary>
internal static class ReadingTables
{
    public static IReadOnlyList<Derivation> Explain(CombinedReading reading, BenchMarks typed) =>
        ReadingDerivations.Explain(reading, BenchReading.Observations(typed).SetUp);

    public static void Write(TextWriter output, CombinedReading reading)
    {
        output.WriteLine(reading.Outcome switch
        {
            ReadingOutcome.Read => "Reading",
            ReadingOutcome.OneSide => "Reading (one side only)",
            _ => "Reading refused",
        });
        if (reading.Outcome != ReadingOutcome.Refused)
        {
            output.WriteLine($"  included angle {Display.Deg(reading.Included) ?? "not known"}   (± is k = 2)");
            output.WriteLine();
            TextTable sides = new("target", "blade", "as read", "edge (roll out)", "primary", "micro");
            foreach (SideReading s in reading.Sides)
            {
                sides.Row(Word(s.Target), s.Blade is { } b ? Word(b) : null, Display.Deg(s.AsRead), Display.Deg(s.Edge), Display.Deg(s.Primary), Display.Deg(s.Micro));
            }

            sides.Write(output);
            if (reading.Roll is { } roll)
                output.WriteLine($"  roll of the holder {Display.Deg(roll)}{(reading.RollKnown ? "" : " (a default, not measured)")}");
            if (reading.Budget.Count > 0)
            {
                output.WriteLine();
                output.WriteLine($"Where the uncertainty of the {(reading.Included is null ? "side" : "included angle")} comes from (k = 1)");
                TextTable budget = new("source", "u");
                foreach (var share in reading.Budget)
                    budget.Row(share.Source, Display.Deg(share.Uncertainty, 3));
                budget.Write(output);
            }
        }

        ReasonList.Write(output, reading.Outcome == ReadingOutcome.Refused ? "Why" : "What it cannot know, and what it leans on", reading.Reasons);
        ReasonList.Write(output, "Measure next", reading.MeasureNext.Select(m => $"{m.What} (then u = {m.After.ToText(2)}; about {Display.Number(m.Minutes, 0)} min)"));
    }

    private static string Word(Side side) => side == Side.Left ? "left" : "right";
}
