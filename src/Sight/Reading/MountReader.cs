using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>Reads the photos of one placing: sheet, laser light, marks, what they are, bevels as read.</summary>
internal static class MountReader
{
    /// <summary>Least odds of the edge marks against every other way to name the marks. Chosen.</summary>
    private const double LeastOdds = 0.85;

    /// <summary>An edge mark fainter than this many times the noise, and than this part of the brightest light, is not trusted alone. Chosen.</summary>
    private const double FaintSignal = 20;

    private const double FaintShare = 0.05;

    /// <summary>Room light above this part of full scale leaves no room for a mark. Chosen.</summary>
    private const double Overexposed = 0.88;

    public static MountReading Read(int mount, MountPhotos photos, PhotoReadRequest request, BeamSetUp setUp, TipDirection tip)
    {
        TargetSheet target = request.Target;
        SheetSearch search = SheetFinder.Find(photos.Lit, target.Fiducials);
        SheetSearch? darkSearch = photos.Dark is null ? null : SheetFinder.Find(photos.Dark, target.Fiducials);
        FoundSheet? sheet = search.Sheet ?? (photos.Dark is not null && SameSize(photos) ? darkSearch?.Sheet : null);
        if (sheet is null)
            return MountReading.Refused(null, null, [], search.Reason!);
        PhotoFrame Frame(EdgeRow row) => PhotoFrame.Of(photos.Lit, sheet, request, setUp, row);
        LaserLight light = Light(photos, sheet, darkSearch?.Sheet, request);
        if (photos.Dark is null && light.RoomLevel > Overexposed)
        {
            return MountReading.Refused(sheet, Frame(UnknownRow(setUp)), [], new Reason("overexposed", $"The sheet itself is exposed to {100 * light.RoomLevel:0} % of what the photo can hold, so no mark can stand out. Take the photo with less exposure or less room light."));
        }

        Point2 zero = target.ZeroMm;
        IReadOnlyList<MarkBlob> blobs = MarkBlobs.In(light);
        IReadOnlyList<MarkShape> shapes = Measure(light, blobs, zero, setUp);
        double row = InnerRow(shapes, zero);
        shapes = Measure(light, BlobSplit.Along(light, blobs, row), new(zero.X, row), setUp);
        IReadOnlyList<MarkShape> lights = [.. shapes.Where(s => !s.IsInk)];
        MarkChoice choice = MarkRoles.Choose(lights, zero, setUp.DistanceMm, setUp.ZeroY, setUp.Priors);
        if (choice.Best.EdgeLeft is null && choice.Best.EdgeRight is null)
        {
            return MountReading.Refused(sheet, Frame(UnknownRow(setUp)), Strays(mount, shapes, sheet), new Reason("no-marks", "No mark stands out from the noise on either side. Check that the beam meets the edge, darken the room, and expose for the marks."));
        }

        return Assemble(mount, choice, shapes, sheet, light, request, Frame(choice.Best.Row), tip);
    }

    /// <summary>The row before any mark tells it: the priors alone.</summary>
    private static EdgeRow UnknownRow(BeamSetUp setUp) => EdgeRow.Fit([], setUp.DistanceMm, setUp.ZeroY, setUp.Priors);

    private static List<MarkShape> Measure(LaserLight light, IReadOnlyList<MarkBlob> blobs, Point2 zero, BeamSetUp setUp) =>
        [.. blobs.Select(b => MarkShapes.Measure(light, b, zero, setUp.DistanceMm)).OfType<MarkShape>()];

    /// <summary>Height of the light nearest zero, drawn toward the target's zero as one more observation: a first guess of the bare beam's height.</summary>
    private static double InnerRow(IReadOnlyList<MarkShape> shapes, Point2 zero)
    {
        double sum = zero.Y;
        double weight = 1;
        foreach (MarkShape s in shapes.Where(s => s.RoughDeg < 5 && Math.Abs(s.CentreYMm - zero.Y) < 5 && s.SignalToNoise > 15))
        {
            double w = 1 / (1 + Math.Pow(s.RoughDeg / 3, 2)) / (s.Blob.Saddle > 0.3 * s.Blob.Peak ? 2 : 1);
            sum += w * s.CentreYMm;
            weight += w;
        }

        return sum / weight;
    }

    private static bool SameSize(MountPhotos photos) =>
        photos.Dark is { } d && d.WidthPx == photos.Lit.WidthPx && d.HeightPx == photos.Lit.HeightPx;

    private static LaserLight Light(MountPhotos photos, FoundSheet sheet, FoundSheet? darkSheet, PhotoReadRequest request)
    {
        Picture picture = photos.Dark ?? photos.Lit;
        FoundSheet on = photos.Dark is null ? sheet : darkSheet is not null && (darkSheet.Fiducials.Count >= 6 || !SameSize(photos)) ? darkSheet : sheet;
        SheetField field = SheetField.From(picture, on.Map, request.Target);
        SheetField? off = null;
        if (photos.Dark is null && photos.Off is { } o)
        {
            FoundSheet? offSheet = SheetFinder.Find(o, request.Target.Fiducials).Sheet;
            if (offSheet is not null)
                off = SheetField.From(o, offSheet.Map, request.Target);
        }

        if (request.Laser != LaserColour.Unknown)
            return LaserLight.From(field, request.Laser, off);
        LaserLight red = LaserLight.From(field, LaserColour.Red, off);
        LaserLight green = LaserLight.From(field, LaserColour.Green, off);
        return red.Strength > green.Strength ? red : green;
    }

    private static MountReading Assemble(
        int mount, MarkChoice choice, IReadOnlyList<MarkShape> shapes, FoundSheet sheet, LaserLight light, PhotoReadRequest request, PhotoFrame frame, TipDirection tip)
    {
        MarkHypothesis best = choice.Best;
        var reasons = new List<Reason>();
        var marks = new List<SeenMark>();
        var observations = new List<ReadingObservation>();
        var reader = new MarkReader(mount, tip, request, frame, sheet, light, best, shapes);
        bool ambiguous = choice.Odds < LeastOdds;
        double brightest = shapes.Max(s => s.Flux);
        if (ambiguous)
        {
            string rival = choice.Rival is { } r ? $" or {Edges(r)}" : "";
            reasons.Add(new("ambiguous", $"Two choices are about as likely ({100 * choice.Odds:0} %): edge marks at {Edges(best)}{rival}. Take a dark photo exposed for the marks, or point out the edge's marks."));
        }

        foreach ((Side side, MarkShape? shape, SeenRole role) in Used(best))
        {
            if (shape is null)
            {
                if (role == SeenRole.Edge && !ambiguous)
                    reasons.Add(new(side == Side.Left ? "mark-missing-left" : "mark-missing-right", $"No edge mark stands out on the target's {(side == Side.Left ? "left" : "right")}. Move the blade sideways until the beam meets both bevels, darken the room, or expose longer."));
                continue;
            }

            (SeenMark mark, ReadingObservation? observation, Reason? reason) = reader.Read(side, shape, role);
            if (role == SeenRole.Edge && shape.SignalToNoise < FaintSignal && shape.Flux < FaintShare * brightest)
            {
                string word = side == Side.Left ? "left" : "right";
                observation = null;
                reason = new($"faint-{word}", $"The only mark on the {word} is faint beside far brighter light ({shape.SignalToNoise:0} times the noise), so the edge's own may be drowned. Move the blade until the beam meets both bevels, and take a dark photo exposed for the outer marks.");
            }

            marks.Add(mark);
            if (reason is not null)
                reasons.Add(reason);
            if (observation is not null && !ambiguous)
                observations.Add(observation);
        }

        var used = best.OnRow.ToHashSet();
        marks.AddRange(Strays(mount, [.. shapes.Where(s => !used.Contains(s))], sheet, light));
        return new(sheet, marks, observations, reasons, choice.Odds) { Frame = frame };
    }

    private static IEnumerable<(Side, MarkShape?, SeenRole)> Used(MarkHypothesis h)
    {
        yield return (Side.Left, h.EdgeLeft, SeenRole.Edge);
        yield return (Side.Right, h.EdgeRight, SeenRole.Edge);
        yield return (Side.Left, h.MicroLeft, SeenRole.Micro);
        yield return (Side.Right, h.MicroRight, SeenRole.Micro);
        yield return (Side.Left, h.PrimaryLeft, SeenRole.Primary);
        yield return (Side.Right, h.PrimaryRight, SeenRole.Primary);
    }

    private static string Edges(MarkHypothesis h) =>
        FormattableString.Invariant($"{h.EdgeLeft?.RoughDeg ?? double.NaN:0.0}° left and {h.EdgeRight?.RoughDeg ?? double.NaN:0.0}° right");

    private static IEnumerable<SeenMark> StrayMarks(int mount, IReadOnlyList<MarkShape> shapes, FoundSheet sheet)
    {
        foreach (MarkShape s in shapes)
        {
            if (s.SignalToNoise < 15)
                continue;
            Point2 at = new(s.CentreXMm, s.CentreYMm);
            SeenRole role = s.IsInk ? SeenRole.Pen : s.RoughDeg < 4 ? SeenRole.Bare : SeenRole.Stray;
            yield return new(mount, s.Side, role, at, sheet.Map.ToPhoto(at), null) { Shape = s };
        }
    }

    private static List<SeenMark> Strays(int mount, IReadOnlyList<MarkShape> shapes, FoundSheet sheet, LaserLight? light = null)
    {
        _ = light;
        return [.. StrayMarks(mount, shapes, sheet)];
    }
}
