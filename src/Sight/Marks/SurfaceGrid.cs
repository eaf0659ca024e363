namespace Whetwright.Sight.Marks;

/// <summary>
/// The square blocks of cells, wholly unmasked, that surfaces are fitted to: their places, which of them are suspect, and the powers of their places. Worked out
/// once for all planes of a field.
/// </summary>
internal sealed class SurfaceGrid
{
    private const int Side = 12;

    private readonly List<int> _corners = [];
    private readonly List<bool> _suspect = [];

    private SurfaceGrid(int width, int height) => (Width, Height) = (width, height);

    public int Width { get; }

    public int Height { get; }

    /// <summary>Blocks that are kept from the fit.</summary>
    public IReadOnlyList<bool> Suspect => _suspect;

    /// <summary>Every block's powers of u and v, <see cref="SmoothSurface.Padded"/> to a row.</summary>
    public double[] Basis { get; private set; } = [];

    public static SurfaceGrid Of(bool[] masked, int width, int height, bool[]? suspect)
    {
        var grid = new SurfaceGrid(width, height);
        for (int row = 0; row + Side <= height; row += Side)
        {
            for (int column = 0; column + Side <= width; column += Side)
            {
                if (Any(masked, row, column, width))
                    continue;
                grid._corners.Add((row * width) + column);
                grid._suspect.Add(suspect is not null && Any(suspect, row, column, width));
            }
        }

        grid.Basis = grid.Powers();
        return grid;
    }

    /// <summary>Mean of every block.</summary>
    public double[] Means(float[] plane)
    {
        double[] means = new double[_corners.Count];
        for (int i = 0; i < means.Length; i++)
        {
            double sum = 0;
            for (int r = 0; r < Side; r++)
            {
                foreach (float z in plane.AsSpan(_corners[i] + (r * Width), Side))
                    sum += z;
            }

            means[i] = sum / (Side * Side);
        }

        return means;
    }

    internal static double U(double i, int n) => (2 * i / n) - 1;

    internal static double Power(double x, int n)
    {
        double y = 1;
        for (int i = 0; i < n; i++)
            y *= x;
        return y;
    }

    private double[] Powers()
    {
        double[] basis = new double[_corners.Count * SmoothSurface.Padded];
        for (int i = 0; i < _corners.Count; i++)
        {
            double u = U((_corners[i] % Width) + (Side / 2), Width);
            double v = U((_corners[i] / Width) + (Side / 2), Height);
            int k = i * SmoothSurface.Padded;
            for (int d = 0; d <= SmoothSurface.Degree; d++)
            {
                for (int b = 0; b <= d; b++)
                    basis[k++] = Power(u, d - b) * Power(v, b);
            }
        }

        return basis;
    }

    private static bool Any(bool[] marked, int row, int column, int width)
    {
        for (int r = row; r < row + Side; r++)
        {
            if (marked.AsSpan((r * width) + column, Side).Contains(true))
                return true;
        }

        return false;
    }
}
