using System.CommandLine;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Records.Bench;
using Whetwright.Records.History;
using Whetwright.Workbench;

namespace Whetwright.Cli.Commands;

/// <summary>replay: stored readings and settings under the present method.</summary>
internal static class ReplayCommand
{
    private const int AtOnce = 200;

    public static Command Make(ITerminal terminal)
    {
        BookFolder folder = new();
        Option<bool> json = new("--json") { Description = "One JSON document on standard output." };
        Command command = new("replay",
            "Make every stored reading and setting again by the present method, from what was observed then, and list what changed by more than\n"
            + "its own uncertainty. Nothing in the book changes.\n\n"
            + "  whetwright replay --data ./shop")
        {
            json,
        };
        folder.AddTo(command);
        command.SetAction(async (parsed, cancel) =>
        {
            await using ServiceProvider services = folder.Services(parsed, mustExist: true);
            ReplayQuery stored = services.GetRequiredService<ReplayQuery>();
            (int readings, int settings) = await stored.CountAsync(cancel);
            List<Replayed> changed = [], cannot = [];
            for (int skip = 0; skip < readings; skip += AtOnce)
            {
                foreach (Reading reading in await stored.ReadingsAsync(skip, AtOnce, cancel))
                    Take(Replay.Of(reading));
            }

            for (int skip = 0; skip < settings; skip += AtOnce)
            {
                cancel.ThrowIfCancellationRequested();
                foreach (SettingMade setting in await stored.SettingsAsync(skip, AtOnce, cancel))
                    Take(Replay.Of(setting));
            }

            if (parsed.GetValue(json))
                await terminal.Output.WriteLineAsync(Document(readings, settings, changed, cannot));
            else
                Say(terminal, readings, settings, changed, cannot);
            return ExitCode.Done;

            void Take(Replayed made)
            {
                if (made.CannotBe is not null)
                    cannot.Add(made);
                else if (made.Changed)
                    changed.Add(made);
            }
        });
        return command;
    }

    private static void Say(ITerminal terminal, int readings, int settings, List<Replayed> changed, List<Replayed> cannot)
    {
        terminal.Output.WriteLine(FormattableString.Invariant(
            $"{readings} readings and {settings} settings made again: {changed.Count} changed by more than their uncertainty, {cannot.Count} cannot be made again."));
        foreach (Replayed made in changed)
        {
            foreach (Recomputed n in made.Numbers.Where(n => n.Changed))
                terminal.Output.WriteLine(FormattableString.Invariant($"{made.At:yyyy-MM-dd}  visit {made.VisitId}, {made.Kind} {made.Id}, {n.What}: {Number(n.Was)} → {Number(n.Now)} {n.Unit} (u {n.U:0.###}); {made.MethodWas} → {made.MethodNow}"));
        }

        foreach (Replayed made in cannot)
            terminal.Output.WriteLine(FormattableString.Invariant($"{made.At:yyyy-MM-dd}  visit {made.VisitId}, {made.Kind} {made.Id}: {made.CannotBe}"));
    }

    private static string Number(double? value) => value is { } v ? v.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture) : "none";

    private static string Document(int readings, int settings, List<Replayed> changed, List<Replayed> cannot) => JsonSerializer.Serialize(
        new
        {
            FormatVersion = 1,
            Readings = readings,
            Settings = settings,
            Changed = changed.Select(made => new { made.Kind, made.Id, made.VisitId, made.At, made.MethodWas, made.MethodNow, Numbers = made.Numbers.Where(n => n.Changed).Select(n => new { n.What, n.Unit, n.Was, n.Now, n.U }) }),
            CannotBe = cannot.Select(made => new { made.Kind, made.Id, made.VisitId, Why = made.CannotBe }),
        },
        Format);

    private static readonly JsonSerializerOptions Format = new(JsonSerializerDefaults.Web) { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
}
