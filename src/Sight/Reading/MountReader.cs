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
    private const double LeastOdds = 0.78;

    /// <summary>An edge mark fainter than this many times the noise, and than this part of the brightest light, is not trusted alone. Chosen.</summary>
    private const double FaintSignal = 20;

    private const double FaintShare = 0.05;

    /// <summary>A streak is at least this much wider than tall, and its middle this near the row. Chosen.</summary>
    private const double StreakRatio = 1.5;

    private const double StreakOffMm = 6;

    private const double MostBurnt = 0.5;

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
        light = light.Behind(BladeMask.From(RoomView(photos, search.Sheet, light, request)));
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
        Reason[] streaks = [.. new[] { Side.Left, Side.Right }.Where(s => IsStreak(s, lights, row, setUp.DistanceMm)).Select(Streak)];
        if (streaks.Length == 2)
            return MountReading.Refused(sheet, Frame(UnknownRow(setUp)), Strays(mount, shapes, sheet), streaks);
        MarkChoice choice = MarkRoles.Choose(lights, zero, setUp.DistanceMm, setUp.ZeroY, setUp.Priors, new(light, zero, row, setUp.DistanceMm));
        if (choice.Best.EdgeLeft is null && choice.Best.EdgeRight is null)
        {
            if (streaks.Length > 0)
                return MountReading.Refused(sheet, Frame(UnknownRow(setUp)), Strays(mount, shapes, sheet), streaks);
            return MountReading.Refused(sheet, Frame(UnknownRow(setUp)), Strays(mount, shapes, sheet), new Reason("no-marks", lights.Any(s => s.Clipped > 0.7 && s.AcrossDeg(setUp.DistanceMm) > MarkRoles.WidestDeg)
                ? "No edge's mark can be told on either side from the light that is burnt out beside it. Check that the beam meets the edge, and take a dark photo with a much shorter exposure, or dim the beam."
                : "No mark stands out from the noise on either side. Check that the beam meets the edge, darken the room, and expose for the marks."));
        }

        return Assemble(mount, choice, shapes, sheet, light, request, Frame(choice.Best.Row), tip);
    }

    /// <summary>The row before any mark tells it: the priors alone.</summary>
    private static EdgeRow UnknownRow(BeamSetUp setUp) => EdgeRow.Fit([], setUp.DistanceMm, setUp.ZeroY, setUp.Priors);

    private static List<MarkShape> Measure(LaserLight light, IReadOnlyList<MarkBlob> blobs, Point2 zero, BeamSetUp setUp) =>
        MarkShapes.Measure(light, blobs, zero, setUp.DistanceMm);

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

    /// <summary>
    /// The photo that shows best what stands before the sheet: the lit one where the marks are read in the dark and the camera did not move.
    /// A laser-off photo takes the blade's own dimness out of the marks' light, so the light is parted once more without it.
    /// </summary>
    private static LaserLight RoomView(MountPhotos photos, FoundSheet? lit, LaserLight light, PhotoReadRequest request)
    {
        if (photos.Dark is not null && lit is not null && SameSize(photos))
            return LaserLight.From(SheetField.From(photos.Lit, lit.Map, request.Target), light.Colour, null);
        return photos.Off is null ? light : LaserLight.From(light.Field, light.Colour, null);
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
                    reasons.Add(IsStreak(side, shapes, request.Target.ZeroMm.Y + best.Row.Y0Mm, frame.DistanceMm) ? Streak(side) : Absent(side, side == Side.Left ? best.MissingLeft : best.MissingRight));
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

    /// <summary>
    /// Scratches along the edge scatter within the plane square to it: the mark is a streak along the reading row, as tall as the beam and far wider
    /// than any facet's own range, with no vertex that would tell the angle.
    /// </summary>
    private static bool IsStreak(Side side, IReadOnlyList<MarkShape> shapes, double rowMm, double distanceMm) =>
        shapes.Any(s => s.Side == side && !s.IsInk && s.SignalToNoise > FaintSignal && s.Clipped < MostBurnt && s.RoughDeg is > 3 and < 35 && Math.Abs(s.CentreYMm - rowMm) < StreakOffMm
            && s.AcrossSdMm > StreakRatio * s.AlongSdMm && s.AcrossDeg(distanceMm) > MarkRoles.WidestDeg);

    private static Reason Streak(Side side) => new(
        "streak-without-vertex",
        $"The light on the target's {(side == Side.Left ? "left" : "right")} is a streak along the reading row without a vertex: the scratches run along the edge, so no angle stands out. Give the facet a few light strokes square to the edge on a fine stone, or read it by the pen test.");

    private static Reason Absent(Side side, MissingMark missing)
    {
        string word = side == Side.Left ? "left" : "right";
        return missing switch
        {
            MissingMark.Hidden => new($"hidden-{word}", $"The blade, or its holder, stands where the edge's mark on the {word} is to be expected. Move the phone sideways until that part of the sheet is in the clear, and take the photo again."),
            MissingMark.Swallowed => new($"merged-{word}", $"The edge's mark on the {word} is to be expected within the light of a brighter mark, and does not stand out from it. Take a dark photo with a shorter exposure, or set the target farther away, until the marks part."),
            _ => new($"mark-missing-{word}", $"No edge mark stands out on the target's {word}. Move the blade sideways until the beam meets both bevels, see that the light falls on the sheet, darken the room, or expose longer."),
        };
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

    private static string Edges(MarkHypothesis h) => $"{Edge(h.EdgeLeft, h.MissingLeft)} left and {Edge(h.EdgeRight, h.MissingRight)} right";

    private static string Edge(MarkShape? mark, MissingMark missing) =>
        mark is { } m ? FormattableString.Invariant($"{m.RoughDeg:0.0}°") : missing switch { MissingMark.Hidden => "behind the blade", MissingMark.Swallowed => "within a brighter mark", _ => "none" };

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
