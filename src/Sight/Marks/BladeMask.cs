using OpenCvSharp;

namespace Whetwright.Sight.Marks;

/// <summary>
/// Where something dark, the blade or its holder, stands between camera and sheet, on the coarse grid: large patches that send back far less
/// room light than paper would. What lies there is no mark on the sheet, however bright: the beam also lights up the blade itself. A part
/// of the blade so lit looks bright; it is found as a bright gap between dark patches of one straight-sided body.
/// </summary>
internal static class BladeMask
{
    /// <summary>Less of the paper's room light than this is dark; chosen, not derived.</summary>
    private const float Dark = 0.5f;

    /// <summary>Room light below this part of full scale tells nothing. Chosen.</summary>
    private const double LeastRoom = 0.004;

    /// <summary>Least area of a patch, cells of half a millimetre: 20 mm². Pen strokes are opened away first. Chosen.</summary>
    private const int LeastCells = 80;

    /// <summary>A gap counts as the blade's own when this part of it is bright with laser light. Chosen.</summary>
    private const double LeastBright = 0.7;

    /// <summary>Where the bare paper itself comes near white, white is no sign of the laser. Chosen.</summary>
    private const float BurntPaper = 0.75f;

    public static bool[] From(LaserLight light)
    {
        bool[] mask = new bool[light.Width * light.Height];
        if (light.RoomLevel < LeastRoom)
            return mask;
        SheetField field = light.Field;
        using Mat dark = new(light.Height, light.Width, MatType.CV_8UC1, Scalar.Black);
        bool[] bright = new bool[mask.Length];
        for (int row = 0; row < light.Height; row++)
        {
            for (int column = 0; column < light.Width; column++)
            {
                int fine = (row * LaserLight.Coarse * field.Width) + (column * LaserLight.Coarse);
                int i = (row * light.Width) + column;
                bright[i] = light.Smooth[i] > 0.5 * light.Paper[fine] || (field.Code[fine] >= 250 && light.Paper[fine] < BurntPaper);
                if (!field.Masked[fine] && light.Room[fine] < Dark * Math.Min(light.Paper[fine], 1))
                    dark.Set(row, column, (byte)255);
            }
        }

        using Mat three = Cv2.GetStructuringElement(MorphShapes.Rect, new Size(3, 3));
        Cv2.MorphologyEx(dark, dark, MorphTypes.Open, three);
        using Mat labels = new();
        using Mat stats = new();
        using Mat centroids = new();
        int count = Cv2.ConnectedComponentsWithStats(dark, labels, stats, centroids);
        var patches = new List<Point[]>();
        using Mat found = new(light.Height, light.Width, MatType.CV_8UC1, Scalar.Black);
        for (int id = 1; id < count; id++)
        {
            if (stats.At<int>(id, (int)ConnectedComponentsTypes.Area) < LeastCells)
                continue;
            using Mat own = new();
            Cv2.Compare(labels, Scalar.All(id), own, CmpTypes.EQ);
            Cv2.BitwiseOr(found, own, found);
            Cv2.FindContours(own, out Point[][] contours, out _, RetrievalModes.External, ContourApproximationModes.ApproxSimple);
            patches.Add([.. contours.SelectMany(c => c)]);
        }

        for (int a = 0; a < patches.Count; a++)
        {
            for (int b = a; b < patches.Count; b++)
                FillLit(found, a == b ? patches[a] : [.. patches[a], .. patches[b]], bright);
        }

        Cv2.Dilate(found, found, three);
        found.GetArray(out byte[] cells);
        for (int i = 0; i < mask.Length; i++)
            mask[i] = cells[i] != 0;
        return mask;
    }

    /// <summary>Adds the hull of one or two patches where what it adds is lit.</summary>
    private static void FillLit(Mat found, Point[] points, bool[] bright)
    {
        using Mat hull = new(found.Rows, found.Cols, MatType.CV_8UC1, Scalar.Black);
        Cv2.FillConvexPoly(hull, Cv2.ConvexHull(points), Scalar.White);
        hull.GetArray(out byte[] inside);
        found.GetArray(out byte[] have);
        int added = 0;
        int lit = 0;
        for (int i = 0; i < inside.Length; i++)
        {
            if (inside[i] == 0 || have[i] != 0)
                continue;
            added++;
            lit += bright[i] ? 1 : 0;
        }

        if (added > 0 && lit >= LeastBright * added)
            Cv2.BitwiseOr(found, hull, found);
    }
}
