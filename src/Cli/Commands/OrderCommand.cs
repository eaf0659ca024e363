using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>order: the day's jobs with few changes of set-up and promises kept.</summary>
internal static class OrderCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("order.json") { Description = "The day's jobs and what each change takes; - reads standard input." };
        Option<string?> seconds = TypedOptions.Make("--seconds", "Most seconds to search; the best order so far is printed. Default: a fixed number of rounds, the same order every time.", "s");
        Option<string?> seed = TypedOptions.Make("--seed", "Seed of the search. Default 1.", "n");
        CommonOptions common = new();
        Command command = new("order",
            "The order of a bench day: least minutes of changing wheel, angle and rig plus weighted minutes late.\n\n"
            + "  whetwright order samples/order/day.json\n"
            + "  whetwright order samples/order/day.json --seconds 5 --json\n"
            + "  whetwright order samples/order/learnt.json\n\n"
            + "Each job has an id and minutes; dueMinutes (a promise), weight (what a minute late costs in set-up minutes, default 1) and after (ids it\n"
            + "waits for) may stand. changeMinutes is square: row and column 0 are the bench as it stands. Breaks are spans [from, to] of the day.\n"
            + "Instead of changeMinutes, setups may hold changes that were timed, and each job its set-up (piece, rig, wheel, angleDeg): what clamp, wheel, angle\n"
            + "and rig take is then learnt, printed with its interval, and called a default until enough were seen.\n"
            + "\"proved\" is said only where no order can be cheaper; otherwise bound says what none can undercut.")
        {
            file,
            seconds,
            seed,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            double? most = parsed.Plain(seconds, new Limits(0.05, 3600), "s");
            int start = (int)Math.Round(parsed.Plain(seed, new Limits(0, 1_000_000_000), "") ?? 1);
            (BenchDay day, SetupTimes? setups) = InputFile.Read(terminal, parsed.GetValue(file)!, OrderFormat.Read);
            DayOrder order = Search(day, start, most);
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    DayOrderResult.Write(json, day, order, setups);
                    if (choice.Explain)
                        json.Derivations([order.Explain(day)]);
                }));
                return ExitCode.Done;
            }

            Show(terminal.Output, day, order);
            if (setups is not null)
                Show(terminal.Output, setups);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, [order.Explain(day)]);
            return ExitCode.Done;
        });
        return command;
    }

    private static DayOrder Search(BenchDay day, int seed, double? seconds)
    {
        if (seconds is not { } s)
            return OrderPlanner.Plan(day, seed);
        using CancellationTokenSource stop = new(TimeSpan.FromSeconds(s));
        return OrderPlanner.Plan(day, seed, int.MaxValue, stop.Token);
    }

    private static void Show(TextWriter output, BenchDay day, DayOrder order)
    {
        output.WriteLine("Order of the day");
        TextTable table = new("#", "job", "change min", "done at min", "late min");
        int at = 0;
        foreach (TimedJob t in day.Timetable(order.Sequence))
            table.Row((++at).ToString(CultureInfo.InvariantCulture), day.Jobs[t.Job].Id, Display.Number(t.ChangeMinutes, 1), Display.Number(t.DoneMinutes, 1), t.LateMinutes > 0 ? Display.Number(t.LateMinutes, 1) : null);
        table.Write(output);
        output.WriteLine();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  {order.SetupMinutes:0.#} min of changes + {order.WeightedLateMinutes:0.#} of weighted lateness = {order.Objective:0.#}"));
        output.WriteLine(order.Proved
            ? "  Proved: no order costs less."
            : string.Create(CultureInfo.InvariantCulture, $"  The best found; not proved. No order can cost less than {order.Bound:0.#}."));
    }

    private static void Show(TextWriter output, SetupTimes setups)
    {
        output.WriteLine();
        output.WriteLine("What a change takes");
        TextTable table = new("change", "min", "from", "to", "known from");
        foreach ((string what, SetupTime time) in setups.Named())
            table.Row(what, Display.Number(time.Minutes, 1), Display.Number(time.FromMinutes, 1), Display.Number(time.ToMinutes, 1), time.Origin);
        table.Write(output);
        output.WriteLine("  From and to hold it with 95 %.");
    }
}
