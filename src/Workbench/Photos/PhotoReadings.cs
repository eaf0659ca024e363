using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Workbench.Photos;

/// <summary>
/// Reads the photographs of one blade, for the command line and the pages alike. The picture library is loaded when this is first called and not before.
/// </summary>
public static class PhotoReadings
{
    /// <summary>Reads; what cannot be read comes back as a refused reading with its reason.</summary>
    /// <exception cref="ArgumentException">What is told beside the photos is out of range.</exception>
    public static PhotoResult Read(PhotoShots shots, PhotoChoice choice, bool annotate = false)
    {
        try
        {
            return Seen(shots, choice, annotate);
        }
        catch (PictureRefusedException e)
        {
            return PhotoResult.Refused(e.Reason);
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            return PhotoResult.Refused(PictureLibrary.Missing);
        }
    }

    /// <summary>Reads one more placing on its own; to be added to marks already read. Null with the reason where the photo cannot be opened.</summary>
    /// <param name="mount">Its number, from 0.</param>
    /// <param name="lit">The lit photo.</param>
    /// <param name="dark">The dark photo, or null.</param>
    /// <param name="choice">What is told beside; its tip is that of this placing.</param>
    public static (MountReading? Mount, Reason? Reason) ReadMount(int mount, PhotoSource lit, PhotoSource? dark, PhotoChoice choice)
    {
        try
        {
            using Picture first = lit.Open();
            using Picture? second = dark?.Open();
            MountPhotos photos = new(first, second);
            return (PhotoReader.ReadMount(mount, photos, choice.Tip ?? TipDirection.Up, Request(photos, choice)), null);
        }
        catch (PictureRefusedException e)
        {
            return (null, e.Reason);
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            return (null, PictureLibrary.Missing);
        }
    }

    /// <summary>Names of laser colours in files.</summary>
    public static LaserColour Colour(string? laser) => laser switch { "red" => LaserColour.Red, "green" => LaserColour.Green, _ => LaserColour.Unknown };

    /// <summary>Names of the forms of bevels in files; null for none.</summary>
    public static FacetForm? Form(string? name) => name switch { "flat" => FacetForm.Flat, "convex" => FacetForm.Convex, "hollow" => FacetForm.Hollow, _ => null };

    /// <summary>What to say where the distance leans on a default; null where it was measured.</summary>
    public static Reason? DistanceNote(bool distanceIsDefault, PhotoChoice choice)
    {
        double percent = 100 * ReadingAssumptions.Default.DistanceRelativeUncertainty;
        if (distanceIsDefault)
            return new("distance-default", FormattableString.Invariant($"Nobody measured the distance: the {choice.Target.DistanceMm:0.##} mm that the target is printed for stand in, with {percent:0.##} % (both chosen defaults). Calibrate it by instrument step, spacer or roll."));
        return choice.DistanceUIsDefault
            ? new("distance-default", FormattableString.Invariant($"Nobody told how well the distance is known: {percent:0.##} % of it stands in (a chosen default). Give --distance-u-mm, or an instrument file."))
            : null;
    }

    private static PhotoReadRequest Request(MountPhotos first, PhotoChoice choice) => new()
    {
        First = first,
        Target = choice.Target,
        Tip = choice.Tip,
        Instrument = choice.Instrument,
        Distance = choice.Distance,
        Laser = Colour(choice.Laser),
        Beam = choice.Beam switch { "dot" => BeamKind.Dot, "line" => BeamKind.Line, _ => BeamKind.Unknown },
        Form = choice.Form,
        HasBack = choice.HasBack,
    };

    private static PhotoResult Seen(PhotoShots shots, PhotoChoice choice, bool annotate)
    {
        using Picture lit = shots.Lit.Open();
        using Picture? dark = shots.Dark?.Open();
        using Picture? off = shots.Off?.Open();
        using Picture? turned = shots.Turned?.Open();
        using Picture? turnedDark = shots.TurnedDark?.Open();
        using OpenedPhotos repeats = new(shots.Repeats.Select(r => r.Open()));
        PhotoReading reading = PhotoReader.Read(Request(new(lit, dark, off), choice) with
        {
            Repeats = [.. repeats.Pictures.Select(p => new MountPhotos(p))],
            Turned = turned is null ? null : new(turned, turnedDark),
        });
        List<byte[]> annotated = [];
        if (annotate)
        {
            annotated.Add(PhotoAnnotation.ToPng(lit, choice.Target, reading.Mounts[0]));
            if (turned is not null)
                annotated.Add(PhotoAnnotation.ToPng(turned, choice.Target, reading.Mounts[1]));
        }

        return new(Combined(reading, choice), annotated) { Seen = reading };
    }

    private static CombinedReading Combined(PhotoReading reading, PhotoChoice choice)
    {
        Reason? distance = reading.Outcome == ReadingOutcome.Refused ? null : DistanceNote(reading.DistanceIsDefault, choice);
        IReadOnlyList<Reason> reasons = distance is null ? reading.Reasons : [.. reading.Reasons, distance];
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
