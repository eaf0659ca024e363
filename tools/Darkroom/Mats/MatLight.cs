using OpenCvSharp;
using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Mats;

/// <summary>Light that reaches the mat beside and under the blade: the room's dome and each lamp, with what stands in the way.</summary>
internal sealed class MatLight
{
    private const double CellMm = 0.25;
    private const int Directions = 144; // 48 leave the shade beside an edge off by 0.04 of the sky, copies of the outline in steps; these by 0.016, in the root mean square by 0.004
    private const double LowestSlope = 6;
    private const double FineMm = 8; // beyond it from the outlines shadows are soft, and every other cell is enough
    private const double UnseenMm = 12; // no camera looks further under the body than this
    private const double Returned = 0.12; // light of the mat that the steel's underside mirrors back, in the dome's own: chosen, not derived

    private readonly MatScene _scene;
    private readonly MatBody _body;
    private readonly double _x0;
    private readonly double _y0;
    private readonly int _columns;
    private readonly int _rows;
    private readonly float[] _cells;

    public MatLight(MatScene scene, MatBody body)
    {
        _scene = scene;
        _body = body;
        List<Point2> around = [.. scene.Shape.Outline.Concat(body.HandleOutline()).Select(body.Frame.ToMat)];
        double margin = Math.Max(25, Reach(body) + 1); // beyond it nothing stands in the way, so that the map's rim shows no step

        _x0 = Math.Max(0, around.Min(p => p.X) - margin);
        _y0 = Math.Max(0, around.Min(p => p.Y) - margin);
        _columns = Math.Max(2, (int)((Math.Min(scene.Mat.SizeMm.X, around.Max(p => p.X) + margin) - _x0) / CellMm) + 1);
        _rows = Math.Max(2, (int)((Math.Min(scene.Mat.SizeMm.Y, around.Max(p => p.Y) + margin) - _y0) / CellMm) + 1);
        _cells = new float[_columns * _rows];
        OpenMm = 1 + scene.Lamps.Sum(l => l.Share);
        Parallel.For(0, _rows, row =>
        {
            for (int column = 0; column < _columns; column++)
                _cells[(row * _columns) + column] = float.NaN;
            for (int column = 0; column < _columns; column++)
            {
                var at = new Point2(_x0 + (column * CellMm), _y0 + (row * CellMm));
                bool between = ((row | column) & 1) != 0 && row < _rows - 1 && column < _columns - 1;
                if (!between || Math.Abs(body.Depth(body.Frame.ToBlade(at))) < FineMm)
                    _cells[(row * _columns) + column] = (float)Reaching(at);
            }
        });
        FillBetween();
        using Mat mat = Mat.FromPixelData(_rows, _columns, MatType.CV_32FC1, _cells);
        using Mat smooth = new();
        Cv2.GaussianBlur(mat, smooth, new(0, 0), 0.7);
        smooth.GetArray(out float[] cells);
        cells.CopyTo(_cells, 0);
    }

    /// <summary>Light on the mat's middle with nothing on it, in the room's own light.</summary>
    public double OpenMm { get; }

    /// <summary>Light on a place of the mat.</summary>
    public double At(Point2 mat)
    {
        double gx = (mat.X - _x0) / CellMm;
        double gy = (mat.Y - _y0) / CellMm;
        if (gx < 0 || gy < 0 || gx >= _columns - 1.001 || gy >= _rows - 1.001)
            return Open(mat);
        int column = (int)gx;
        int row = (int)gy;
        double fx = gx - column;
        double fy = gy - row;
        int at = (row * _columns) + column;
        double top = _cells[at] + (fx * (_cells[at + 1] - _cells[at]));
        double bottom = _cells[at + _columns] + (fx * (_cells[at + _columns + 1] - _cells[at + _columns]));
        return top + (fy * (bottom - top));
    }

    /// <summary>Light on a place with nothing in the way.</summary>
    public double Open(Point2 mat)
    {
        double sum = 1;
        foreach (Lamp lamp in _scene.Lamps)
            sum += lamp.Share * Fall(lamp, mat.X, mat.Y);
        return sum;
    }

    // Cells left out lie between cells of even rows and columns, or of the last.
    private void FillBetween()
    {
        for (int row = 0; row < _rows; row++)
        {
            for (int column = 0; column < _columns; column++)
            {
                int at = (row * _columns) + column;
                if (!float.IsNaN(_cells[at]))
                    continue;
                (int up, int left) = ((row & 1) * _columns, column & 1);
                _cells[at] = (_cells[at - up - left] + _cells[at - up + left] + _cells[at + up - left] + _cells[at + up + left]) / 4;
            }
        }
    }

    // A lamp's light against its light on the mat's middle: cos⁴ of a lamp that faces down.
    private double Fall(Lamp lamp, double x, double y)
    {
        static double Of(Lamp l, double px, double py)
        {
            double dx = px - l.AtMm.X;
            double dy = py - l.AtMm.Y;
            double r2 = (dx * dx) + (dy * dy) + (l.AtMm.Z * l.AtMm.Z);
            return 1 / (r2 * r2);
        }

        return Of(lamp, x, y) / Of(lamp, _scene.Mat.SizeMm.X / 2, _scene.Mat.SizeMm.Y / 2);
    }

    // How far from the outlines the body still stands in the way of the dome: as far as its lowest direction that counts.
    private static double Reach(MatBody body) => (body.TallestMm * LowestSlope) + 1;

    private double Reaching(Point2 mat)
    {
        double near = -_body.Depth(_body.Frame.ToBlade(mat));
        if (near > Reach(_body))
            return Open(mat);
        if (near < -UnseenMm)
            return Returned;
        double free = 0;
        for (int i = 0; i < Directions; i++)
        {
            double sin = Math.Sqrt((i + 0.5) / Directions); // cosine-weighted dome
            double slope = Math.Min(LowestSlope, sin / Math.Sqrt(1 - (sin * sin)));
            (double s, double c) = Math.SinCos(i * 2.399963);
            if (slope * _body.TallestMm < near || Free(mat, new(slope * c, slope * s)))
                free++;
            else
                free += Returned;
        }

        double sum = free / Directions;
        foreach (Lamp lamp in _scene.Lamps)
        {
            int seen = 0;
            const int parts = 6;
            for (int part = 0; part < parts * parts; part++)
            {
                double lx = lamp.AtMm.X + (lamp.HalfMm.X * ((2 * ((part % parts) + 0.5) / parts) - 1));
                double ly = lamp.AtMm.Y + (lamp.HalfMm.Y * ((2 * ((part / parts) + 0.5) / parts) - 1));
                var lean = new Vector2((lx - mat.X) / lamp.AtMm.Z, (ly - mat.Y) / lamp.AtMm.Z);
                if (lean.Norm * _body.TallestMm < near || Free(mat, lean))
                    seen++;
            }

            sum += lamp.Share * Fall(lamp, mat.X, mat.Y) * seen / (parts * parts);
        }

        return sum;
    }

    // Upward from the mat: skips ahead by the distance to the outlines, as far as the slope allows.
    private bool Free(Point2 mat, Vector2 lean)
    {
        double slope = Math.Max(0.02, lean.Norm);
        double height = 0.01;
        for (int i = 0; i < 60 && height < _body.TallestMm; i++)
        {
            Point2 b = _body.Frame.ToBlade(new(mat.X + (lean.X * height), mat.Y + (lean.Y * height)));
            double depth = _body.Depth(b);
            if (depth <= 0)
            {
                height += Math.Max(0.05, -depth * MatBody.NotBeyond / slope);
                continue;
            }

            (double low, double high, _) = _body.Span(b);
            if (height >= low && height <= high)
                return false;
            height += height < low ? Math.Min(0.5, Math.Min(Math.Max(0.05, low - height), ((low + high) / 2) - height)) : 0.5;
        }

        return true;
    }
}
