using Whetwright.Cli.Commands;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>The reading of a visit whose file names photographs in place of marks.</summary>
internal static class VisitPhotoReading
{
    public static CombinedReading Read(ITerminal terminal, VisitFile visit, string home, Blade blade)
    {
        VisitPhotos p = visit.Photos!;
        TargetSheet sheet = InputFile.Read(terminal, Path.Combine(home, p.Target), TargetFormat.Read);
        Instrument? instrument = visit.Instrument is { } i ? InputFile.Read(terminal, Path.Combine(home, i), InstrumentFormat.Read) : null;
        string? At(string? path) => path is null ? null : Path.Combine(home, path);
        PhotoFiles files = new(At(p.Lit)!) { Dark = At(p.Dark), Off = At(p.Off), Turned = At(p.Turned), TurnedDark = At(p.TurnedDark) };
        PhotoChoice choice = new(sheet)
        {
            Tip = p.Tip switch { "up" => TipDirection.Up, "down" => TipDirection.Down, _ => null },
            Instrument = instrument,
            Distance = PhotoChoice.DistanceTold(sheet, instrument, p.DistanceMm, p.DistanceUMm),
            DistanceUIsDefault = p.DistanceMm is not null && p.DistanceUMm is null,
            Laser = p.Laser,
            Beam = p.Beam,
            Form = PhotoReadings.Form(p.Form),
            HasBack = blade.Reference == AngleReference.Back,
        };
        terminal.Error.WriteLine("Reading the photographs …");
        return PhotoJob.Read(files, choice).Reading;
    }
}
