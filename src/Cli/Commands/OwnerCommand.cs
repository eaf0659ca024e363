using System.CommandLine;
using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Records.Backup;
using Whetwright.Records.Privacy;
using Whetwright.Records.Saving;

namespace Whetwright.Cli.Commands;

/// <summary>owner: what a person may ask of the shop about themselves.</summary>
internal static class OwnerCommand
{
    public static Command Make(ITerminal terminal) => new("owner", "What a person may ask about themselves: everything the book holds of them, or to be taken out of it.")
    {
        MakeExport(terminal), MakeErase(terminal), MakeDue(terminal),
    };

    private static Command MakeExport(ITerminal terminal)
    {
        Argument<long> id = new("id") { Description = "The owner's number: the last part of their page's address in the book." };
        Option<string> to = new("--out") { Description = "File to make.", HelpName = "file.zip", Required = true };
        BookFolder folder = new();
        Command command = new("export", "Write everything about one owner: owner.json with every row, and their photos.\n\n  whetwright owner export 17 --out 17.zip --data ./shop") { id, to };
        folder.AddTo(command);
        command.SetAction(async (parsed, cancel) =>
        {
            await using ServiceProvider services = folder.Services(parsed, mustExist: true);
            using MemoryStream zip = new();
            try
            {
                if (!await services.GetRequiredService<OwnerExport>().WriteAsync(parsed.GetValue(id), zip, cancel))
                    throw new InputRefusedException($"id is {parsed.GetValue(id)}: an owner in the book would be right");
            }
            catch (BackupRefusedException e)
            {
                await terminal.Error.WriteLineAsync(e.Message);
                return ExitCode.WorkRefused;
            }

            string place = Path.GetFullPath(parsed.GetValue(to)!);
            AtomicFile.Write(place, zip.ToArray());
            await terminal.Output.WriteLineAsync($"Written: {place}");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command MakeErase(ITerminal terminal)
    {
        Argument<long> id = new("id") { Description = "The owner's number." };
        Option<bool> sure = new("--yes") { Description = "Nothing brings it back but a backup." };
        BookFolder folder = new();
        Command command = new("erase",
            "Take one owner out of the book: name, telephone, mail, address, notes, words about their pieces, photos. What was charged and paid stays, so the\n"
            + "shop's figures are the same. Backups made before still hold them: keep only as many as you need.\n\n  whetwright owner erase 17 --yes --data ./shop") { id, sure };
        folder.AddTo(command);
        command.SetAction(async (parsed, cancel) =>
        {
            if (!parsed.GetValue(sure))
                throw new InputRefusedException("--yes is missing: this cannot be undone, so it has to be said");
            await using ServiceProvider services = folder.Services(parsed, mustExist: true);
            switch (await services.GetRequiredService<OwnerErasure>().EraseAsync(token: null, parsed.GetValue(id), cancel))
            {
                case SaveOutcome<Erased>.Saved { Value: var erased }:
                    await terminal.Output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture,
                        $"Erased: owner {erased.OwnerId}, words of {erased.Pieces} pieces and {erased.Visits} visits, {erased.PhotoHashes.Count} photos. Backups made before still hold them."));
                    return ExitCode.Done;
                case SaveOutcome<Erased>.Refused refused:
                    foreach (FieldProblem problem in refused.Problems)
                        await terminal.Error.WriteLineAsync(problem.ToString());
                    return ExitCode.WorkRefused;
                default:
                    throw new InvalidOperationException("Outcomes are a closed set.");
            }
        });
        return command;
    }

    private static Command MakeDue(ITerminal terminal)
    {
        BookFolder folder = new();
        Command command = new("due", "List owners who no longer come, by the months on the shop's card.\n\n  whetwright owner due --data ./shop");
        folder.AddTo(command);
        command.SetAction(async (parsed, cancel) =>
        {
            await using ServiceProvider services = folder.Services(parsed, mustExist: true);
            IReadOnlyList<OwnerDue> due = await services.GetRequiredService<Retention>().DueAsync(cancel);
            foreach (OwnerDue owner in due)
                await terminal.Output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{owner.Id,6}  {owner.Last:yyyy-MM-dd}  {owner.Name}"));
            await terminal.Output.WriteLineAsync(due.Count == 0 ? "Nobody is due." : string.Create(CultureInfo.InvariantCulture, $"{due.Count} due: whetwright owner erase ID --yes"));
            return ExitCode.Done;
        });
        return command;
    }
}
