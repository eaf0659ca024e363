using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Mats;

/// <summary>
/// Distance to a line on a grid of the blade's plane: exact enough between cells near the line and afar, and exact around the corners of a closed line and the ends of an open
/// one, which straight lines between cells would round: a point of 30° would lose a tenth of a millimetre.
/// </summary>
internal sealed class DistanceGrid
{
    private const double CellMm = 0.1;
    private const double BandMm = 2.5;
    private const int Coarse = 10;

    /// <summary>Where a closed line turns more than this it has a corner. Chosen.</summary>
    private const double CornerDeg = 10;

    /// <summary>Far off a line counts by places so far apart, and by its corners. Chosen.</summary>
    private const double ThinnedMm = 1;

    /// <summary>So near a corner or an end the distance is exact; no segment further off than thrice that is nearer than the corner. Chosen.</summary>
    private const double ExactMm = 0.4;

    private readonly double _x0;
    private readonly double _y0;
    private readonly int _columns;
    private readonly int _rows;
    private readonly float[] _cells;
    private readonly bool _signed;
    private readonly bool _sided;
    private readonly IReadOnlyList<Point2> _line;
    private readonly List<(Point2 At, (Point2 From, Point2 To)[] Segments)> _corners = [];

    /// <param name="line">The line; closed and signed (inside positive) if <paramref name="closed"/>.</param>
    /// <param name="closed">Whether the line closes on itself.</param>
    /// <param name="sided">
    /// Whether an open line's distance, within the band, is positive on its left (y up) and negative on its right. Without a sign it is a fold between cells that
    /// lie on either side, and what is drawn from its slope comes out in dashes along the line.
    /// </param>
    public DistanceGrid(IReadOnlyList<Point2> line, bool closed, double x0, double y0, double x1, double y1, bool sided = false)
    {
        (_line, _sided) = (line, sided);
        (_x0, _y0, _signed) = (x0, y0, closed);
        _columns = (int)Math.Ceiling((x1 - x0) / CellMm) + 2;
        _rows = (int)Math.Ceiling((y1 - y0) / CellMm) + 2;
        _cells = new float[_columns * _rows];
        Array.Fill(_cells, float.MaxValue);
        int segments = closed ? line.Count : line.Count - 1;
        for (int i = 0; i < segments; i++)
            Near(line[i], line[(i + 1) % line.Count]);
        Far(line, closed);
        if (closed)
            Sign(line);
        IEnumerable<Point2> corners = closed ? Enumerable.Range(0, line.Count).Where(i => TurnDeg(line, i) > CornerDeg).Select(i => line[i]) : [line[0], line[^1]];
        _corners.AddRange(corners.Select(c => (c, Around(c))));
    }

    /// <summary>Distance at a place; signed grids: positive inside.</summary>
    public double At(double x, double y)
    {
        double gx = (x - _x0) / CellMm;
        double gy = (y - _y0) / CellMm;
        if (gx < 0 || gy < 0 || gx >= _columns - 1 || gy >= _rows - 1)
            return _signed ? -1e3 : 1e3;
        foreach ((Point2 corner, (Point2, Point2)[] segments) in _corners)
        {
            if (Math.Abs(x - corner.X) < ExactMm && Math.Abs(y - corner.Y) < ExactMm)
                return Exactly(segments, x, y);
        }

        int column = (int)gx;
        int row = (int)gy;
        double fx = gx - column;
        double fy = gy - row;
        int at = (row * _columns) + column;
        double top = _cells[at] + (fx * (_cells[at + 1] - _cells[at]));
        double bottom = _cells[at + _columns] + (fx * (_cells[at + _columns + 1] - _cells[at + _columns]));
        return top + (fy * (bottom - top));
    }

    private static double TurnDeg(IReadOnlyList<Point2> line, int i)
    {
        Vector2 before = line[i] - line[(i + line.Count - 1) % line.Count];
        Vector2 after = line[(i + 1) % line.Count] - line[i];
        return double.RadiansToDegrees(Math.Abs(Math.Atan2(before.Cross(after), before.Dot(after))));
    }

    private (Point2 From, Point2 To)[] Around(Point2 corner) =>
        [.. Enumerable.Range(0, _signed ? _line.Count : _line.Count - 1).Select(i => (_line[i], _line[(i + 1) % _line.Count])).Where(s => Distance(s.Item1, s.Item2, corner.X, corner.Y) < 3 * ExactMm)];

    private double Exactly((Point2 From, Point2 To)[] segments, double x, double y)
    {
        double nearest = double.MaxValue;
        bool beyond = false;
        foreach ((Point2 from, Point2 to) in segments)
        {
            double d = Distance(from, to, x, y);
            if (d < nearest)
                (nearest, beyond) = (d, Beyond(from, to, x, y));
        }

        return (_signed ? !Inside(x, y) : beyond) ? -nearest : nearest;
    }

    // Even and odd crossings of a level to the left.
    private bool Inside(double x, double y)
    {
        bool inside = false;
        for (int i = 0; i < _line.Count; i++)
        {
            if (Crosses(_line[i], _line[(i + 1) % _line.Count], y) < x)
                inside = !inside;
        }

        return inside;
    }

    // Where a segment crosses a level; null where it does not.
    private static double? Crosses(Point2 a, Point2 b, double y) => (a.Y <= y) != (b.Y <= y) ? a.X + ((y - a.Y) / (b.Y - a.Y) * (b.X - a.X)) : null;

    private void Near(Point2 a, Point2 b)
    {
        int left = Math.Max(0, (int)((Math.Min(a.X, b.X) - BandMm - _x0) / CellMm));
        int right = Math.Min(_columns - 1, (int)((Math.Max(a.X, b.X) + BandMm - _x0) / CellMm));
        int top = Math.Max(0, (int)((Math.Min(a.Y, b.Y) - BandMm - _y0) / CellMm));
        int bottom = Math.Min(_rows - 1, (int)((Math.Max(a.Y, b.Y) + BandMm - _y0) / CellMm));
        for (int row = top; row <= bottom; row++)
        {
            for (int column = left; column <= right; column++)
            {
                float d = (float)Distance(a, b, _x0 + (column * CellMm), _y0 + (row * CellMm));
                if (d <= BandMm && d < Math.Abs(_cells[(row * _columns) + column]))
                    _cells[(row * _columns) + column] = Beyond(a, b, _x0 + (column * CellMm), _y0 + (row * CellMm)) ? -d : d;
            }
        }
    }

    private bool Beyond(Point2 a, Point2 b, double x, double y) => _sided && ((b.X - a.X) * (y - a.Y)) - ((b.Y - a.Y) * (x - a.X)) < 0;

    // Outside the band: every tenth cell against the thinned line, and straight lines between.
    private void Far(IReadOnlyList<Point2> line, bool closed)
    {
        int across = (_columns / Coarse) + 2;
        int down = (_rows / Coarse) + 2;
        var coarse = new double[across * down];
        Point2[] thin = Thinned(line, closed);
        Parallel.For(0, down, row =>
        {
            for (int column = 0; column < across; column++)
            {
                double x = _x0 + (column * Coarse * CellMm);
                double y = _y0 + (row * Coarse * CellMm);
                double nearest = double.MaxValue;
                for (int i = 1; i < thin.Length; i++)
                    nearest = Math.Min(nearest, Distance(thin[i - 1], thin[i], x, y));
                coarse[(row * across) + column] = nearest;
            }
        });
        Parallel.For(0, _rows, row =>
        {
            for (int column = 0; column < _columns; column++)
            {
                int at = (row * _columns) + column;
                if (_cells[at] < float.MaxValue)
                    continue;
                int c = column / Coarse;
                int r = row / Coarse;
                double fx = (double)(column % Coarse) / Coarse;
                double fy = (double)(row % Coarse) / Coarse;
                double top = coarse[(r * across) + c] + (fx * (coarse[(r * across) + c + 1] - coarse[(r * across) + c]));
                double bottom = coarse[((r + 1) * across) + c] + (fx * (coarse[((r + 1) * across) + c + 1] - coarse[((r + 1) * across) + c]));
                _cells[at] = (float)(top + (fy * (bottom - top)));
            }
        });
    }

    // A place every millimetre, and all corners and ends: without them a point would lose its last millimetres, and rays would jump over it.
    private static Point2[] Thinned(IReadOnlyList<Point2> line, bool closed)
    {
        List<Point2> kept = [line[0]];
        for (int i = 1; i < line.Count; i++)
        {
            if (i == line.Count - 1 || line[i].DistanceTo(kept[^1]) > ThinnedMm || TurnDeg(line, i) > CornerDeg)
                kept.Add(line[i]);
        }

        return closed ? [.. kept, line[0]] : [.. kept];
    }

    private void Sign(IReadOnlyList<Point2> line)
    {
        Parallel.For(0, _rows, row =>
        {
            double y = _y0 + (row * CellMm);
            List<double> crossings = [];
            for (int i = 0; i < line.Count; i++)
            {
                if (Crosses(line[i], line[(i + 1) % line.Count], y) is { } at)
                    crossings.Add(at);
            }

            crossings.Sort();
            int next = 0;
            for (int column = 0; column < _columns; column++)
            {
                while (next < crossings.Count && crossings[next] < _x0 + (column * CellMm))
                    next++;
                if (next % 2 == 0)
                    _cells[(row * _columns) + column] *= -1;
            }
        });
    }

    private static double Distance(Point2 a, Point2 b, double x, double y)
    {
        double wx = b.X - a.X;
        double wy = b.Y - a.Y;
        double length2 = (wx * wx) + (wy * wy);
        double t = length2 > 0 ? Math.Clamp((((x - a.X) * wx) + ((y - a.Y) * wy)) / length2, 0, 1) : 0;
        double dx = x - a.X - (t * wx);
        double dy = y - a.Y - (t * wy);
        return Math.Sqrt((dx * dx) + (dy * dy));
    }
}
