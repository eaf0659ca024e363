using Whetwright.Cli.Commands;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>
/// Reads the photographs of one blade. The only door from the command line to the picture library, which is loaded when this is first called and
/// not before.
/// </summary>
internal static class PhotoJob
{
    /// <summary>Reads; what cannot be read comes back as a refused reading with its reason.</summary>
    /// <exception cref="InputRefusedException">A file is missing, or what is told beside the photos is out of range.</exception>
    public static PhotoResult Read(PhotoFiles files, PhotoChoice choice, bool annotate = false)
    {
        files.Check();
        try
        {
            return PhotoReadings.Read(files.Shots(), choice, annotate);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException(ReadCommand.Plain(e));
        }
    }

    /// <summary>Where the bare beam falls, mm as drawn right of the target's zero, with its standard uncertainty.</summary>
    /// <exception cref="PhotosRefusedException">It cannot be told.</exception>
    public static (double Mm, double UMm) BareBeam(string path, TargetSheet target, string? laser)
    {
        new PhotoFiles(path).Check();
        try
        {
            using Picture photo = PhotoSource.File(path).Open();
            BareBeamReading reading = Sight.Reading.BareBeam.Read(photo, target, PhotoReadings.Colour(laser));
            return reading.OffZeroMm is { } off
                ? (off.X, reading.UMm)
                : throw new PhotosRefusedException([reading.Reason! with { Text = $"{path}: {reading.Reason.Text}" }]);
        }
        catch (PictureRefusedException e)
        {
            throw new PhotosRefusedException([e.Reason]);
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            throw new PhotosRefusedException([PictureLibrary.Missing]);
        }
    }

    /// <summary>Where the edge's marks lie in a photo of one step of a roll, mm as drawn outward from zero.</summary>
    /// <exception cref="PhotosRefusedException">Neither side was read.</exception>
    public static RollStep RollStep(string path, PhotoChoice choice, Length feeler) => Guarded(path, photo =>
    {
        (RollStep? step, IReadOnlyList<Reason> reasons) = RollPhoto.Read(
            new() { First = new(photo), Target = choice.Target, Instrument = choice.Instrument, Distance = choice.Distance, Laser = PhotoReadings.Colour(choice.Laser) }, feeler);
        return step ?? throw new PhotosRefusedException([.. reasons.Select(r => r with { Text = $"{path}: {r.Text}" })]);
    });

    /// <summary>The printer's scale from lengths pointed out in a photo of the sheet.</summary>
    /// <exception cref="PhotosRefusedException">The sheet was not found.</exception>
    public static (PrintScale Scale, double U, IReadOnlyList<Derivation> Chain) Printed(
        string path, TargetSheet target, IReadOnlyList<(Point2 From, Point2 To, MeasuredLength True)> lengths, MeasuredLength raised) => Guarded(path, photo =>
    {
        PointedLength[] pointed = [.. lengths.Select(l => new PointedLength(l.From, l.To, l.True))];
        PrintedScaleReading read = PrintedScale.Read(photo, target, pointed[0], pointed[1], raised);
        return read.Scale is { } scale
            ? (scale, read.U, read.Chain)
            : throw new PhotosRefusedException([read.Reason! with { Text = $"{path}: {read.Reason.Text}" }]);
    });

    private static T Guarded<T>(string path, Func<Picture, T> read)
    {
        new PhotoFiles(path).Check();
        try
        {
            using Picture photo = PhotoSource.File(path).Open();
            return read(photo);
        }
        catch (PictureRefusedException e)
        {
            throw new PhotosRefusedException([e.Reason]);
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            throw new PhotosRefusedException([PictureLibrary.Missing]);
        }
    }

    /// <summary>Reads a photo of some other scale whose graduations were pointed out.</summary>
    public static (CombinedReading Reading, BenchSetUp? SetUp) OtherScale(string path, GraduationsFile graduations, ScaleChoice choice)
    {
        new PhotoFiles(path).Check();
        try
        {
            GraduatedScale scale = GraduatedScale.Fit([.. graduations.Graduations.Select(g => new Graduation(g.Px, g.Deg))]);
            using Picture photo = PhotoSource.File(path).Open();
            ScaleReading reading = ScaleReading.Read(photo, scale, graduations.Scale, PhotoReadings.Colour(choice.Laser), choice.Tip, choice.HasBack, choice.Instrument);
            return (reading.Combined ?? PhotoResult.Nothing(reading.Reasons), reading.SetUp);
        }
        catch (PictureRefusedException e)
        {
            return (PhotoResult.Nothing([e.Reason]), null);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException($"--graduations: {ReadCommand.Plain(e)}");
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            return (PhotoResult.Nothing([PictureLibrary.Missing]), null);
        }
    }
}
