using Whetwright.Cli.Commands;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

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
            return Seen(files, choice, annotate);
        }
        catch (PictureRefusedException e)
        {
            return PhotoResult.Refused(e.Reason);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException(ReadCommand.Plain(e));
        }
        catch (Exception e) when (NativeLibrary.IsMissing(e))
        {
            return PhotoResult.Refused(NativeLibrary.Missing);
        }
    }

    /// <summary>Where the bare beam falls, mm as drawn right of the target's zero, with its standard uncertainty.</summary>
    /// <exception cref="PhotosRefusedException">It cannot be told.</exception>
    public static (double Mm, double UMm) BareBeam(string path, TargetSheet target, string? laser)
    {
        new PhotoFiles(path).Check();
        try
        {
            using Picture photo = Open(path);
            BareBeamReading reading = Sight.Reading.BareBeam.Read(photo, target, Colour(laser));
            return reading.OffZeroMm is { } off
                ? (off.X, reading.UMm)
                : throw new PhotosRefusedException([reading.Reason! with { Text = $"{path}: {reading.Reason.Text}" }]);
        }
        catch (PictureRefusedException e)
        {
            throw new PhotosRefusedException([e.Reason]);
        }
        catch (Exception e) when (NativeLibrary.IsMissing(e))
        {
            throw new PhotosRefusedException([NativeLibrary.Missing]);
        }
    }

    /// <summary>Reads a photo of some other scale whose graduations were pointed out.</summary>
    public static (CombinedReading Reading, BenchSetUp? SetUp) OtherScale(string path, GraduationsFile graduations, ScaleChoice choice)
    {
        new PhotoFiles(path).Check();
        try
        {
            GraduatedScale scale = GraduatedScale.Fit([.. graduations.Graduations.Select(g => new Graduation(g.Px, g.Deg))]);
            using Picture photo = Open(path);
            ScaleReading reading = ScaleReading.Read(photo, scale, graduations.Scale, Colour(choice.Laser), choice.Tip, choice.HasBack, choice.Instrument);
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
        catch (Exception e) when (NativeLibrary.IsMissing(e))
        {
            return (PhotoResult.Nothing([NativeLibrary.Missing]), null);
        }
    }

    private static LaserColour Colour(string? laser) => laser switch { "red" => LaserColour.Red, "green" => LaserColour.Green, _ => LaserColour.Unknown };

    private static PhotoResult Seen(PhotoFiles files, PhotoChoice choice, bool annotate)
    {
        using Picture lit = Open(files.Lit);
        using Picture? dark = files.Dark is { } d ? Open(d) : null;
        using Picture? off = files.Off is { } o ? Open(o) : null;
        using Picture? turned = files.Turned is { } t ? Open(t) : null;
        using Picture? turnedDark = files.TurnedDark is { } td ? Open(td) : null;
        using OpenedPhotos repeats = new(files.Repeats.Select(Open));
        PhotoReading reading = PhotoReader.Read(new()
        {
            First = new(lit, dark, off),
            Repeats = [.. repeats.Pictures.Select(p => new MountPhotos(p))],
            Turned = turned is null ? null : new(turned, turnedDark),
            Target = choice.Target,
            Tip = choice.Tip,
            Instrument = choice.Instrument,
            Distance = choice.Distance,
            Laser = Colour(choice.Laser),
            Beam = choice.Beam switch { "dot" => BeamKind.Dot, "line" => BeamKind.Line, _ => BeamKind.Unknown },
            HasBack = choice.HasBack,
        });
        List<byte[]> annotated = [];
        if (annotate)
        {
            annotated.Add(PhotoAnnotation.ToPng(lit, choice.Target, reading.Mounts[0]));
            if (turned is not null)
                annotated.Add(PhotoAnnotation.ToPng(turned, choice.Target, reading.Mounts[1]));
        }

        return new(Combined(reading, choice), annotated);
    }

    private static Picture Open(string path)
    {
        try
        {
            return Picture.Read(path);
        }
        catch (PictureRefusedException e)
        {
            throw new PictureRefusedException(e.Reason with { Text = $"{path}: {e.Reason.Text}" });
        }
    }

    private static CombinedReading Combined(PhotoReading reading, PhotoChoice choice)
    {
        IReadOnlyList<Reason> reasons = [.. reading.Reasons, .. Distance(reading, choice)];
        CombinedReading combined = reading.Combined ?? PhotoResult.Nothing(reasons);
        return combined with
        {
            Outcome = reading.Outcome,
            Reasons = reasons,
            Included = reading.Included,
            Marks = [.. reading.Marks.Select(Mark).OfType<ReadMark>()],
        };
    }

    /// <summary>A facet's mark as seen, in the sheet's own frame.</summary>
    private static ReadMark? Mark(SeenMark mark)
    {
        MarkRole? role = mark.Role switch { SeenRole.Edge => MarkRole.Edge, SeenRole.Primary => MarkRole.Primary, SeenRole.Micro => MarkRole.Micro, _ => null };
        return role is { } r && mark.AsRead is { } deg ? new(mark.Mount, mark.Target, r, mark.TargetMm, mark.PhotoPx, deg) : null;
    }

    private static IEnumerable<Reason> Distance(PhotoReading reading, PhotoChoice choice)
    {
        if (reading.Outcome == ReadingOutcome.Refused)
            yield break;
        double percent = 100 * ReadingAssumptions.Default.DistanceRelativeUncertainty;
        if (reading.DistanceIsDefault)
            yield return new("distance-default", FormattableString.Invariant($"Nobody measured the distance: the {choice.Target.DistanceMm:0.##} mm that the target is printed for stand in, with {percent:0.##} % (both chosen defaults). Calibrate it by instrument step, spacer or roll."));
        else if (choice.DistanceUIsDefault)
            yield return new("distance-default", FormattableString.Invariant($"Nobody told how well the distance is known: {percent:0.##} % of it stands in (a chosen default). Give --distance-u-mm, or an instrument file."));
    }

    /// <summary>Pictures opened together and closed together, also where one of them cannot be opened.</summary>
    private sealed class OpenedPhotos : IDisposable
    {
        private readonly List<Picture> pictures = [];

        public OpenedPhotos(IEnumerable<Picture> opening)
        {
            try
            {
                foreach (Picture picture in opening)
                    pictures.Add(picture);
            }
            catch
            {
                Dispose();
                throw;
            }
        }

        public IReadOnlyList<Picture> Pictures => pictures;

        public void Dispose() => pictures.ForEach(p => p.Dispose());
    }
}
