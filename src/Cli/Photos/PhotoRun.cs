using Whetwright.Cli.Commands;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Formats;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>Reads the photographs of one blade and shows the reading.</summary>
internal static class PhotoRun
{
    public static int Run(ITerminal terminal, CommonChoice common, PhotoFiles files, PhotoChoice choice, string? annotate)
    {
        PhotoResult result = PhotoJob.Read(files, choice, annotate is not null);
        CombinedReading reading = result.Reading;
        if (annotate is not null)
            Write(terminal, annotate, result.Annotated);
        return Show(terminal, common, reading, null);
    }

    public static int OtherScale(ITerminal terminal, CommonChoice common, string photo, GraduationsFile graduations, ScaleChoice choice)
    {
        (CombinedReading reading, BenchSetUp? setUp) = PhotoJob.OtherScale(photo, graduations, choice);
        return Show(terminal, common, reading, setUp);
    }

    private static int Show(ITerminal terminal, CommonChoice common, CombinedReading reading, BenchSetUp? setUp)
    {
        ReadCommand.Show(terminal, common, reading, () => reading.Solution is null ? [] : ReadingDerivations.Explain(reading, setUp));
        if (reading.Outcome != ReadingOutcome.Refused)
            return ExitCode.Done;
        ReasonList.Write(terminal.Error, "Refused:", reading.Reasons);
        return ExitCode.WorkRefused;
    }

    public static void Write(ITerminal terminal, string path, IReadOnlyList<byte[]> pictures)
    {
        for (int i = 0; i < pictures.Count; i++)
        {
            string to = i == 0 ? path : Path.ChangeExtension(path, null) + "-turned" + Path.GetExtension(path);
            AtomicFile.Write(to, pictures[i]);
            terminal.Error.WriteLine($"Written: {to}");
        }

        if (pictures.Count == 0)
            terminal.Error.WriteLine($"{path} was not written: there is no picture to draw on.");
    }
}
