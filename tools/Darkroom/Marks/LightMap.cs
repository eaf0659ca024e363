using OpenCvSharp;
using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Marks;

/// <summary>Light on the sheet on a grid: share of the beam's power per mm².</summary>
public sealed class LightMap
{
    /// <summary>Cells per mm.</summary>
    public const int PerMm = 4;

    private readonly float[] _cells;

    public LightMap(double widthMm, double heightMm)
    {
        Columns = (int)Math.Ceiling(widthMm * PerMm);
        Rows = (int)Math.Ceiling(heightMm * PerMm);
        _cells = new float[Columns * Rows];
    }

    public int Columns { get; }

    public int Rows { get; }

    /// <summary>Share of the beam's power that fell on the sheet.</summary>
    public double Power { get; private set; }

    public static double CellMm2 => 1.0 / (PerMm * PerMm);

    public float this[int column, int row] => _cells[(row * Columns) + column];

    /// <summary>Adds power at a place, shared among the four nearest cells.</summary>
    public void Add(double xMm, double yMm, double power)
    {
        double x = (xMm * PerMm) - 0.5;
        double y = (yMm * PerMm) - 0.5;
        int column = (int)Math.Floor(x);
        int row = (int)Math.Floor(y);
        if (column < 0 || row < 0 || column >= Columns - 1 || row >= Rows - 1)
            return;
        Power += power;
        float fx = (float)(x - column);
        float fy = (float)(y - row);
        float value = (float)(power / CellMm2);
        int at = (row * Columns) + column;
        _cells[at] += value * (1 - fx) * (1 - fy);
        _cells[at + 1] += value * fx * (1 - fy);
        _cells[at + Columns] += value * (1 - fx) * fy;
        _cells[at + Columns + 1] += value * fx * fy;
    }

    /// <summary>Spreads the light a little, as paper does; where few samples fell, over three times as far, so that no single one shows.</summary>
    /// <param name="sigmaMm">Standard deviation of the spread.</param>
    /// <param name="sample">Power of one sample; 0 where the light was laid down evenly.</param>
    public void Spread(double sigmaMm, double sample = 0)
    {
        if (Power <= 0)
            return;
        using var mat = Mat.FromPixelData(Rows, Columns, MatType.CV_32FC1, _cells);
        using Mat blurred = new();
        Cv2.GaussianBlur(mat, blurred, new(0, 0), sigmaMm * PerMm);
        blurred.GetArray(out float[] near);
        if (sample > 0)
        {
            using Mat wide = new();
            Cv2.GaussianBlur(mat, wide, new(0, 0), 3 * sigmaMm * PerMm);
            wide.GetArray(out float[] far);
            double footprintMm2 = 4 * Math.PI * sigmaMm * sigmaMm;
            float few = (float)(12 * sample / footprintMm2);
            for (int i = 0; i < near.Length; i++)
            {
                float trust = far[i] / (far[i] + few);
                near[i] = (trust * near[i]) + ((1 - trust) * far[i]);
            }
        }

        near.CopyTo(_cells, 0);
    }

    /// <summary>Adds another map, moved and weakened.</summary>
    public void Add(LightMap other, double factor = 1, double dxMm = 0, double dyMm = 0)
    {
        int dx = (int)Math.Round(dxMm * PerMm);
        int dy = (int)Math.Round(dyMm * PerMm);
        for (int row = Math.Max(0, dy); row < Math.Min(Rows, Rows + dy); row++)
        {
            for (int column = Math.Max(0, dx); column < Math.Min(Columns, Columns + dx); column++)
                _cells[(row * Columns) + column] += (float)factor * other._cells[((row - dy) * Columns) + column - dx];
        }

        Power += factor * other.Power;
    }

    /// <summary>Value between the cells.</summary>
    public double At(double xMm, double yMm)
    {
        double x = Math.Clamp((xMm * PerMm) - 0.5, 0, Columns - 1.001);
        double y = Math.Clamp((yMm * PerMm) - 0.5, 0, Rows - 1.001);
        int column = (int)x;
        int row = (int)y;
        double fx = x - column;
        double fy = y - row;
        int at = (row * Columns) + column;
        double top = _cells[at] + (fx * (_cells[at + 1] - _cells[at]));
        double bottom = _cells[at + Columns] + (fx * (_cells[at + Columns + 1] - _cells[at + Columns]));
        return top + (fy * (bottom - top));
    }

    /// <summary>Brightest cell, centroid and the tenth, fiftieth and ninetieth percentile of the light's x.</summary>
    public (Point2 PeakMm, double Peak, Point2 CentroidMm, double[] PercentilesMm) Measure()
    {
        double sum = 0;
        double sumX = 0;
        double sumY = 0;
        float peak = 0;
        int peakAt = 0;
        var byColumn = new double[Columns];
        for (int row = 0; row < Rows; row++)
        {
            for (int column = 0; column < Columns; column++)
            {
                float value = _cells[(row * Columns) + column];
                if (value <= 0)
                    continue;
                sum += value;
                sumX += value * (column + 0.5);
                sumY += value * (row + 0.5);
                byColumn[column] += value;
                if (value > peak)
                    (peak, peakAt) = (value, (row * Columns) + column);
            }
        }

        if (sum <= 0)
            return (new(0, 0), 0, new(0, 0), [0, 0, 0]);
        var percentiles = new double[3];
        for (int i = 0; i < 3; i++)
        {
            double left = sum * ((double[])[0.1, 0.5, 0.9])[i];
            int column = 0;
            while (column < Columns - 1 && left > byColumn[column])
                left -= byColumn[column++];
            percentiles[i] = (column + (byColumn[column] > 0 ? left / byColumn[column] : 0)) / PerMm;
        }

        return (
            new(((peakAt % Columns) + 0.5) / PerMm, ((peakAt / Columns) + 0.5) / PerMm), peak,
            new(sumX / sum / PerMm, sumY / sum / PerMm), percentiles);
    }
}
