using OpenCvSharp;

namespace Whetwright.Darkroom.Marks;

/// <summary>The lens's glow about bright light, thought back onto the sheet: share of the beam per mm².</summary>
internal sealed class BloomOnSheet
{
    private const int Coarse = 4;

    private readonly int _columns;
    private readonly int _rows;
    private readonly float[] _glow;

    public BloomOnSheet(MarkPhotographs photographs, LightMap total)
    {
        _columns = total.Columns / Coarse;
        _rows = total.Rows / Coarse;
        var cells = new float[_columns * _rows];
        for (int row = 0; row < _rows * Coarse; row++)
        {
            for (int column = 0; column < _columns * Coarse; column++)
                cells[(row / Coarse * _columns) + (column / Coarse)] += total[column, row] / (Coarse * Coarse);
        }

        Shot shot = photographs.Scene.Shot;
        double cellsPerPx12 = photographs.PxScale / photographs.PxPerMmScale * LightMap.PerMm / Coarse;
        using Mat all = Mat.FromPixelData(_rows, _columns, MatType.CV_32FC1, cells);
        using Mat near = new();
        using Mat far = new();
        Cv2.GaussianBlur(all, near, new(0, 0), Math.Max(0.5, shot.BloomPx12.X * cellsPerPx12));
        Cv2.GaussianBlur(all, far, new(0, 0), Math.Max(0.5, shot.BloomPx12.Y * cellsPerPx12));
        using Mat sum = new();
        Cv2.AddWeighted(near, shot.Bloom.X, far, shot.Bloom.Y, 0, sum);
        sum.GetArray(out _glow);
    }

    public double At(double xMm, double yMm)
    {
        int column = Math.Clamp((int)(xMm * LightMap.PerMm / Coarse), 0, _columns - 1);
        int row = Math.Clamp((int)(yMm * LightMap.PerMm / Coarse), 0, _rows - 1);
        return _glow[(row * _columns) + column];
    }
}
