using System.CommandLine;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Formats.Writing;
using Whetwright.Records.Health;

namespace Whetwright.Cli.Commands;

/// <summary>doctor: looks the book over and says what to do.</summary>
internal static class DoctorCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<bool> clean = new("--clean") { Description = "Take away photos that no entry names and that are older than a day." };
        Passphrase passphrase = new();
        BookFolder folder = new();
        CommonOptions common = new();
        Command command = new("doctor",
            "Look the book over: the database (every page and row), photos (every byte against its hash), the last backup (age, and whether it reads),\n"
            + "the clock, the free space; and say what to do. Nothing is changed but by --clean. It may look while the program runs.\n\n"
            + "  whetwright doctor --data ./shop\n\n"
            + "Exit code 0: well, or something to mind; 3: something is wrong.")
        {
            clean,
        };
        passphrase.AddTo(command);
        folder.AddTo(command);
        common.AddTo(command);
        command.SetAction(async (parsed, cancel) =>
        {
            CommonChoice choice = common.Read(parsed);
            await using ServiceProvider services = folder.There(parsed);
            IReadOnlyList<Finding> findings = await BookFolder.ReachedAsync(() => services.GetRequiredService<BookDoctor>().LookAsync(parsed.GetValue(clean), passphrase.Read(parsed, forNew: false), cancel));
            Condition worst = findings.Max(f => f.How);
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    json.WriteString("worst", Word(worst));
                    json.WriteStartArray("findings");
                    foreach (Finding finding in findings)
                    {
                        json.WriteStartObject();
                        json.WriteString("what", finding.What);
                        json.WriteString("how", Word(finding.How));
                        json.WriteString("found", finding.Found);
                        json.WriteString("toDo", finding.ToDo);
                        json.WriteEndObject();
                    }

                    json.WriteEndArray();
                }));
            }
            else
            {
                foreach (Finding finding in findings)
                {
                    await terminal.Output.WriteLineAsync($"{Word(finding.How),-5} {finding.What,-9} {finding.Found}");
                    if (finding.ToDo is { } toDo)
                        await terminal.Output.WriteLineAsync($"                {toDo}");
                }
            }

            return worst == Condition.Bad ? ExitCode.WorkRefused : ExitCode.Done;
        });
        return command;
    }

    private static string Word(Condition how) => how switch
    {
        Condition.Well => "well",
        Condition.Mind => "mind",
        _ => "BAD",
    };
}
