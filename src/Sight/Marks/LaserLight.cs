using System.Buffers;
using OpenCvSharp;

namespace Whetwright.Sight.Marks;

/// <summary>
/// What light the laser adds on the sheet: the laser's channel less the room light expected there. The room light is a smooth
/// surface dimmed where the other channels say that a shadow, the blade or ink dims it, or the laser-off photo where there is one.
/// </summary>
internal sealed class LaserLight
{
    /// <summary>Columns and rows of the coarse planes per one of the fine: half-millimetre cells.</summary>
    public const int Coarse = 2;

    /// <summary>
    /// Where the laser's channel is clipped, from the lower to the upper of these levels, what the other channels gain is added. It only ranks
    /// light among clipped cells, so that two clipped marks that touch can be parted; a phone whose channels leak nothing loses only that.
    /// </summary>
    private const float ClipFrom = 0.85f;

    private const float ClipTo = 0.97f;

    private LaserLight(SheetField field, LaserColour colour, float[] excess, float[] room, float[] paper)
    {
        (Field, Colour, Excess, Room, Paper) = (field, colour, excess, room, paper);
        Width = field.Width / Coarse;
        Height = field.Height / Coarse;
        Smooth = Smoothed(excess, field.Width, field.Height);
        NoiseSd = Noise(Smooth, Width, Height, CoarseMask());
        RoomLevel = SmoothSurface.Quantile(Sample(room, field.Masked), 0.5);
    }

    private LaserLight(LaserLight other, bool[] blade)
    {
        (Field, Colour, Excess, Room, Paper) = (other.Field, other.Colour, other.Excess, other.Room, other.Paper);
        (Width, Height, Smooth, NoiseSd, RoomLevel, Blade) = (other.Width, other.Height, other.Smooth, other.NoiseSd, other.RoomLevel, blade);
    }

    public SheetField Field { get; }

    public LaserColour Colour { get; }

    /// <summary>Added light on the fine grid, in parts of full scale.</summary>
    public float[] Excess { get; }

    /// <summary>Room light expected on the fine grid.</summary>
    public float[] Room { get; }

    /// <summary>Room light expected where nothing shades it.</summary>
    public float[] Paper { get; }

    /// <summary>How far the brightest twentieth of the field stands above the noise: tells the laser's channel.</summary>
    public double Strength => SmoothSurface.Quantile(Smooth.Select(v => (double)v), 0.985) / NoiseSd;

    /// <summary>Added light on the coarse grid, smoothed (0.5 mm across, 1 mm down).</summary>
    public float[] Smooth { get; }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Noise of <see cref="Smooth"/> where only room light falls.</summary>
    public double NoiseSd { get; }

    /// <summary>Typical room light.</summary>
    public double RoomLevel { get; }

    /// <summary>Where the blade stands before the sheet, on the coarse grid; see <see cref="BladeMask"/>.</summary>
    public IReadOnlyList<bool> Blade { get; init; } = [];

    /// <summary>True where a coarse cell shows the blade, a fiducial or nothing of the sheet.</summary>
    public bool IsBlocked(int column, int row)
    {
        if (column < 0 || row < 0 || column >= Width || row >= Height)
            return true;
        return IsBlade(column, row) || Field.Masked[(row * Coarse * Field.Width) + (column * Coarse)];
    }

    public bool IsBlade(int column, int row) => Blade.Count > 0 && Blade[(row * Width) + column];

    /// <summary>The same light with the blade known.</summary>
    public LaserLight Behind(bool[] blade) => new(this, blade);

    /// <summary>Noise of <see cref="Smooth"/> at a place as bright as this: photon noise grows with the root of the light.</summary>
    public double NoiseAt(double excess) =>
        NoiseSd * Math.Sqrt(1 + (Math.Max(0, excess) / Math.Max(RoomLevel, 0.02)));

    public static LaserLight From(SheetField field, LaserColour colour, SheetField? off)
    {
        float[] plane = field.Plane(colour);
        float[] other = Others(field, colour);
        (float[] room, float[] paper, float[] otherRoom) = off is null ? ModelRoom(field, colour, other) : OffRoom(field, off, colour);
        float[] excess = GC.AllocateUninitializedArray<float>(plane.Length);
        Parallel.For(0, field.Height, row =>
        {
            int end = (row + 1) * field.Width;
            for (int i = row * field.Width; i < end; i++)
            {
                if (field.Masked[i])
                {
                    excess[i] = 0;
                    continue;
                }

                excess[i] = plane[i] - room[i];
                if (plane[i] > ClipFrom)
                    excess[i] += Math.Min(1, (plane[i] - ClipFrom) / (ClipTo - ClipFrom)) * Math.Max(0, other[i] - otherRoom[i]);
            }
        });
        ArrayPool<float>.Shared.Return(other);
        ArrayPool<float>.Shared.Return(otherRoom);
        return new(field, colour, excess, room, paper);
    }

    private static (float[] Room, float[] Paper, float[] OtherRoom) ModelRoom(SheetField field, LaserColour colour, float[] other)
    {
        float[] plane = field.Plane(colour);
        bool[] suspect = Suspect(field, plane, other);
        float[] paper = [];
        float[] otherRoom = ArrayPool<float>.Shared.Rent(plane.Length);
        SurfaceGrid grid = SurfaceGrid.Of(field.Masked, field.Width, field.Height, suspect);
        ArrayPool<bool>.Shared.Return(suspect);
        using Mat smooth = new();
        Parallel.Invoke(
            () => paper = SmoothSurface.Fit(plane, grid).Draw(),
            () =>
            {
                _ = SmoothSurface.Fit(other, grid).Draw(otherRoom);
                using Mat o = Mat.FromPixelData(field.Height, field.Width, MatType.CV_32FC1, other);
                Cv2.GaussianBlur(o, smooth, new Size(0, 0), 1.2);
            });
        float[] room = GC.AllocateUninitializedArray<float>(paper.Length);
        Parallel.For(0, field.Height, row =>
        {
            ReadOnlySpan<float> seen = smooth.RowSpan<float>(row);
            for (int column = 0; column < seen.Length; column++)
            {
                int i = (row * seen.Length) + column;
                float shade = otherRoom[i] > 1e-4f ? seen[column] / Math.Min(otherRoom[i], 1) : 1; // no photo holds more than full scale
                room[i] = Math.Clamp(paper[i], 0, 1) * Math.Clamp(shade, 0.05f, 1f);
            }
        });
        return (room, paper, otherRoom);
    }

    /// <summary>The mean of the other two channels, in a plane of the pool that may be longer than the field.</summary>
    private static float[] Others(SheetField field, LaserColour colour)
    {
        float[] a = colour == LaserColour.Red ? field.Green : field.Red;
        float[] other = ArrayPool<float>.Shared.Rent(a.Length);
        ReadOnlySpan<float> first = a;
        ReadOnlySpan<float> blue = field.Blue.AsSpan(0, first.Length);
        for (int i = 0; i < first.Length; i++)
            other[i] = (first[i] + blue[i]) / 2;
        return other;
    }

    /// <summary>In a plane of the pool: cells whose colour leans to the laser's far more than the sheet's usual one: light of the laser, kept from the surface.</summary>
    private static bool[] Suspect(SheetField field, float[] plane, float[] other)
    {
        double[] ratios = new double[(plane.Length / 37) + 1];
        int known = 0;
        for (int i = 0; i < plane.Length; i += 37)
        {
            if (!field.Masked[i] && other[i] > 0.002f)
                ratios[known++] = plane[i] / other[i];
        }

        double usual = OrderStatistic.Quantile(ratios.AsSpan(0, known), 0.5);
        double low = OrderStatistic.Quantile(ratios.AsSpan(0, known), 0.16);
        double limit = usual + (4 * (usual - low)) + (0.03 * usual);
        bool[] suspect = ArrayPool<bool>.Shared.Rent(plane.Length);
        using Mat p = Mat.FromPixelData(field.Height, field.Width, MatType.CV_32FC1, plane);
        using Mat o = Mat.FromPixelData(field.Height, field.Width, MatType.CV_32FC1, other);
        using Mat ps = new();
        using Mat os = new();
        Parallel.Invoke(() => Cv2.Blur(p, ps, new Size(9, 9)), () => Cv2.Blur(o, os, new Size(9, 9)));
        int count = 0;
        for (int row = 0; row < field.Height; row++)
        {
            ReadOnlySpan<float> pv = ps.RowSpan<float>(row);
            ReadOnlySpan<float> ov = os.RowSpan<float>(row);
            Span<bool> line = suspect.AsSpan(row * field.Width, field.Width);
            ReadOnlySpan<byte> code = field.Code.AsSpan(row * field.Width, field.Width);
            for (int i = 0; i < line.Length; i++)
            {
                bool leans = pv[i] > limit * Math.Max(ov[i], 0.002) || code[i] >= 252;
                line[i] = leans;
                count += leans ? 1 : 0;
            }
        }

        if (count > 0.7 * plane.Length)
            Array.Clear(suspect);
        return suspect;
    }

    /// <summary>The laser-off photo, brought to the same exposure by the median ratio over the field.</summary>
    private static (float[] Room, float[] Paper, float[] OtherRoom) OffRoom(SheetField field, SheetField off, LaserColour colour)
    {
        float[] plane = field.Plane(colour);
        float[] dark = off.Plane(colour);
        var ratios = new List<double>();
        for (int i = 0; i < plane.Length; i += 53)
        {
            if (!field.Masked[i] && !off.Masked[i] && dark[i] > 0.01f && field.Code[i] < 250)
                ratios.Add(plane[i] / dark[i]);
        }

        double gain = SmoothSurface.Quantile(ratios, 0.35);
        if (gain <= 0)
            gain = 1;
        using Mat d = Mat.FromPixelData(field.Height, field.Width, MatType.CV_32FC1, dark);
        using Mat smooth = new();
        Cv2.GaussianBlur(d, smooth, new Size(0, 0), 1.0);
        smooth.GetArray(out float[] room);
        for (int i = 0; i < room.Length; i++)
            room[i] *= (float)gain;
        float[] otherRoom = Others(off, colour);
        for (int i = 0; i < room.Length; i++)
            otherRoom[i] *= (float)gain;
        return (room, room, otherRoom);
    }

    private static float[] Smoothed(float[] fine, int width, int height)
    {
        using Mat m = Mat.FromPixelData(height, width, MatType.CV_32FC1, fine);
        using Mat half = new();
        Cv2.Resize(m, half, new Size(width / Coarse, height / Coarse), 0, 0, InterpolationFlags.Area);
        Cv2.GaussianBlur(half, half, new Size(0, 0), 1.0, 2.0);
        half.GetArray(out float[] smooth);
        return smooth;
    }

    private bool[] CoarseMask()
    {
        bool[] mask = new bool[Width * Height];
        for (int row = 0; row < Height; row++)
        {
            for (int column = 0; column < Width; column++)
                mask[(row * Width) + column] = Field.Masked[(row * Coarse * Field.Width) + (column * Coarse)];
        }

        return mask;
    }

    private static double Noise(float[] smooth, int width, int height, bool[] mask)
    {
        const int apart = 8;
        double[] differences = new double[width * height / 4];
        int known = 0;
        for (int row = apart; row < height - apart; row += 2)
        {
            for (int column = apart; column < width - apart; column += 2)
            {
                int i = (row * width) + column;
                if (mask[i] || mask[i - apart] || mask[i + apart] || mask[i - (apart * width)] || mask[i + (apart * width)])
                    continue;
                double mean = (smooth[i - apart] + smooth[i + apart] + smooth[i - (apart * width)] + smooth[i + (apart * width)]) / 4;
                differences[known++] = Math.Abs(smooth[i] - mean);
            }
        }

        return Math.Max(1.4826 * OrderStatistic.Quantile(differences.AsSpan(0, known), 0.45) / Math.Sqrt(1.25), 2e-5);
    }

    private static IEnumerable<double> Sample(float[] plane, bool[] masked)
    {
        for (int i = 0; i < plane.Length; i += 41)
        {
            if (!masked[i])
                yield return plane[i];
        }
    }
}
