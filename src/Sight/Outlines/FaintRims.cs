using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Rims too faint for one place to show: steps of tone averaged over some millimetres along each direction, less the slope that the light has on
/// both sides. Steel as bright as the paper still has such a rim, for its tone runs otherwise than the paper's. And it has a dark line there, too thin for a step: the
/// last of the paper beside it is in its shadow, and its wall or bevel looks elsewhere.
/// </summary>
internal static class FaintRims
{
    /// <summary>Directions over half a turn. Chosen: between two of them an averaged rim strays by half a cell.</summary>
    private const int Directions = 16;

    /// <summary>Length that a step is averaged over, cells: 8.4 mm. Chosen: a belly bends by less than its blur over it.</summary>
    private const int AlongCells = 21;

    /// <summary>Tones next to the step and those that tell the slope, cells from it: 0.4–1.2 mm and 1.6–2.8 mm. Chosen.</summary>
    private const int NearCells = 3, FarCells = 7;

    /// <summary>The step at every cell (32-bit float), natural logarithm of the tone, of the channel and direction that show it most.</summary>
    /// <param name="tones">Natural logarithms of the tones against the bare paper's, three channels.</param>
    public static Mat Strength(Mat tones)
    {
        using Mat across = Across();
        return Along(tones, across, signed: false);
    }

    /// <summary>How dark a line lies at every cell (32-bit float), against the cells 1.2 to 2.8 mm to both sides, in the direction that shows it most.</summary>
    /// <param name="strokes">How much darker a cell is than what lies around it, natural logarithm; one channel.</param>
    public static Mat Lines(Mat strokes)
    {
        using Mat across = AcrossLine();
        return Along(strokes, across, signed: true);
    }

    private static Mat Along(Mat values, Mat across, bool signed)
    {
        (int rows, int columns) = (values.Rows, values.Width);
        int side = (int)Math.Ceiling(Math.Sqrt(((double)rows * rows) + ((double)columns * columns)));
        using Mat one = new(1, 1, MatType.CV_32FC1, Scalar.All(1));
        using Mat zero = new(rows, columns, MatType.CV_32FC1, Scalar.All(0));
        Mat best = zero.Clone();
        for (int k = 0; k < Directions; k++)
        {
            using Mat turn = Cv2.GetRotationMatrix2D(new Point2f(columns / 2f, rows / 2f), 180.0 * k / Directions, 1);
            turn.Set(0, 2, turn.At<double>(0, 2) + ((side - columns) / 2.0));
            turn.Set(1, 2, turn.At<double>(1, 2) + ((side - rows) / 2.0));
            using Mat turned = new();
            Cv2.WarpAffine(values, turned, turn, new Size(side, side), InterpolationFlags.Linear, BorderTypes.Replicate);
            Cv2.Blur(turned, turned, new Size(AlongCells, 1));
            using Mat step = new();
            Cv2.SepFilter2D(turned, step, MatType.CV_32F, one, across);
            using Mat back = new();
            Cv2.WarpAffine(step, back, turn, new Size(columns, rows), InterpolationFlags.Linear | InterpolationFlags.WarpInverseMap);
            foreach (Mat plane in Cv2.Split(back))
            {
                if (!signed)
                    Cv2.Absdiff(plane, zero, plane);
                Cv2.Max(best, plane, best);
                plane.Dispose();
            }
        }

        return best;
    }

    private static Mat AcrossLine()
    {
        float[] weight = new float[(2 * FarCells) + 1];
        for (int u = -FarCells; u <= FarCells; u++)
            weight[FarCells + u] = Math.Abs(u) < 2 ? 1 / 3f : Math.Abs(u) >= NearCells ? -0.5f / (FarCells - NearCells + 1) : 0;
        var column = new Mat(weight.Length, 1, MatType.CV_32FC1);
        column.SetArray(weight);
        return column;
    }

    /// <summary>
    /// Weights across: means of the near tones on both sides and of the far ones, so joined that an even slope gives nothing and a step its size.
    /// </summary>
    private static Mat Across()
    {
        double near = (1 + NearCells) / 2.0;
        double far = (NearCells + 1 + FarCells) / 2.0;
        float[] weight = new float[(2 * FarCells) + 1];
        for (int u = 1; u <= FarCells; u++)
        {
            double w = u <= NearCells ? far / (far - near) / NearCells : -near / (far - near) / (FarCells - NearCells);
            (weight[FarCells + u], weight[FarCells - u]) = ((float)w, (float)-w);
        }

        var column = new Mat(weight.Length, 1, MatType.CV_32FC1);
        column.SetArray(weight);
        return column;
    }
}
