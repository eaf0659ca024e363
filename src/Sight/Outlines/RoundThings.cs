using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Round things on the mat, as coins, also where they touch the blade or its shadow. A blade's widest places touch its sides at two places, a corner's at three; a round thing is
/// bounded at one distance nearly all around.
/// </summary>
internal static class RoundThings
{
    /// <summary>Radii of what is taken for one, mm: coins, pots' lids, stamps. Chosen.</summary>
    private const double LeastMm = 6, MostMm = 17;

    /// <summary>So much of what bounds it lies within so far of its circle, mm. Chosen: the rounded end of a handle comes to 0.67, a square to 0.5.</summary>
    private const double RoundShare = 0.72, OffMm = 0.8;

    /// <summary>It is cut off so far outside its circle, mm. Chosen: the rim of its own shadow.</summary>
    private const double RingMm = 0.9;

    /// <summary>What is bounded by the filled blade over so much of this ring around it is a spot that steel mirrors, mm outside. Chosen.</summary>
    private const double WithinShare = 0.6, AroundMm = 2;

    private const int Ways = 90;

    /// <summary>Takes them off the things and gives back where they were, in cells.</summary>
    public static IReadOnlyList<(Point Centre, int Radius)> TakeOff(Mat things)
    {
        var found = Find(things);
        Draw(things, found, RingMm, 0);
        return found;
    }

    /// <summary>Puts them back as things of their own; a dark spot in the middle of steel that was filled meanwhile as a part of it.</summary>
    public static void PutBack(Mat things, IReadOnlyList<(Point Centre, int Radius)> round)
    {
        things.GetArray(out byte[] on);
        bool Steel((Point Centre, int Radius) spot) => Enumerable.Range(0, Ways).Count(way =>
            At(things, spot.Centre, spot.Radius + (AroundMm / MatField.StepMm), way) is { } i && on[i] != 0) > WithinShare * Ways;
        var spots = round.Where(Steel).ToList();
        (Point, int)[] own = [.. round.Except(spots)];
        Draw(things, own, RingMm, 0);
        Draw(things, own, 0, 255);
        Draw(things, spots, RingMm, 255);
    }

    private static void Draw(Mat mask, IReadOnlyList<(Point Centre, int Radius)> round, double ringMm, byte value)
    {
        foreach ((Point centre, int radius) in round)
            Cv2.Circle(mask, centre, radius + (int)Math.Ceiling(ringMm / MatField.StepMm), Scalar.All(value), -1);
    }

    /// <summary>Round things in a mask, centres and radii in cells.</summary>
    public static IReadOnlyList<(Point Centre, int Radius)> Find(Mat things)
    {
        using Mat inside = new();
        Cv2.DistanceTransform(things, inside, DistanceTypes.L2, DistanceTransformMasks.Precise);
        using Mat highest = new();
        using Mat kernel = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(9, 9));
        Cv2.Dilate(inside, highest, kernel);
        inside.GetArray(out float[] depth);
        highest.GetArray(out float[] most);
        things.GetArray(out byte[] on);
        int columns = things.Width;
        var round = new List<(Point Centre, int Radius)>();
        foreach (int i in Enumerable.Range(0, depth.Length)
            .Where(i => depth[i] >= LeastMm / MatField.StepMm && depth[i] <= MostMm / MatField.StepMm && depth[i] >= most[i]).OrderByDescending(i => depth[i]))
        {
            var centre = new Point(i % columns, i / columns);
            if (round.All(r => centre.DistanceTo(r.Centre) > r.Radius) && Enumerable.Range(0, Ways).Count(way => Ends(centre, depth[i], way)) >= RoundShare * Ways)
                round.Add((centre, (int)Math.Round(depth[i])));
        }

        return round;

        // Whether the thing ends that way about as near as where it is nearest.
        bool Ends(Point centre, double radius, int way) =>
            At(things, centre, radius + (OffMm / MatField.StepMm), way) is not { } i || on[i] == 0;
    }

    // The cell so far from a centre that way; null outside.
    private static int? At(Mat things, Point centre, double reach, int way)
    {
        (double sin, double cos) = Math.SinCos(2 * Math.PI * way / Ways);
        int column = (int)Math.Round(centre.X + (reach * cos));
        int row = (int)Math.Round(centre.Y + (reach * sin));
        return row < 0 || column < 0 || row >= things.Rows || column >= things.Width ? null : (row * things.Width) + column;
    }
}
