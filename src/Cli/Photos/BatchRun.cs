using System.Text;
using Whetwright.Cli.Commands;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>Reads a folder of photographs into a table; progress stands on standard error, a refused photo is a row with its reason.</summary>
internal static class BatchRun
{
    public static int Run(ITerminal terminal, CommonChoice common, string folder, string csv, PhotoChoice choice)
    {
        IReadOnlyList<BatchScene> scenes = BatchScenes.In(folder);
        IReadOnlyDictionary<BatchScene, PhotoDistance> distances = BatchDistances.In(terminal, folder, scenes);
        StringBuilder table = new(BatchCsv.Header);
        Dictionary<ReadingOutcome, int> counts = [];
        for (int i = 0; i < scenes.Count; i++)
        {
            CombinedReading reading = Read(scenes[i], choice.With(distances.GetValueOrDefault(scenes[i])));
            table.Append(BatchCsv.Row(scenes[i].Name, reading));
            counts[reading.Outcome] = counts.GetValueOrDefault(reading.Outcome) + 1;
            string says = reading.Included is { } included ? $"{Display.Deg(included)} included" : reading.Reasons.Count > 0 ? reading.Reasons[0].Code : "";
            terminal.Error.WriteLine($"{i + 1} of {scenes.Count}  {scenes[i].Name}: {ReadingResult.Word(reading.Outcome)}, {says}");
        }

        AtomicFile.Write(csv, table.ToString());
        int both = counts.GetValueOrDefault(ReadingOutcome.Read), one = counts.GetValueOrDefault(ReadingOutcome.OneSide), refused = counts.GetValueOrDefault(ReadingOutcome.Refused);
        if (common.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                json.WriteString("csv", csv);
                json.WriteNumber("photos", scenes.Count);
                json.WriteNumber("read", both);
                json.WriteNumber("oneSide", one);
                json.WriteNumber("refused", refused);
            }));
        }
        else
        {
            terminal.Output.WriteLine($"{scenes.Count} photographs: {both} read, {one} one side only, {refused} refused. Written: {csv}");
        }

        if (both + one > 0)
            return ExitCode.Done;
        terminal.Error.WriteLine("None of the photographs could be read; the table says why for each.");
        return ExitCode.WorkRefused;
    }

    private static CombinedReading Read(BatchScene scene, PhotoChoice choice)
    {
        try
        {
            return PhotoJob.Read(scene.Files, choice).Reading;
        }
        catch (InputRefusedException e) when (scene.Files.All.Any(f => !File.Exists(f)))
        {
            return PhotoResult.Nothing([new Reason("photo-gone", e.Message)]);
        }
#pragma warning disable CA1031 // One photo must not end the batch; its row says that the fault is ours.
        catch (Exception e) when (e is not InputRefusedException)
#pragma warning restore CA1031
        {
            return PhotoResult.Nothing([new Reason("our-fault", $"This photo ended in a fault of ours; please report it: {e.GetType().Name}, {e.Message}")]);
        }
    }
}
