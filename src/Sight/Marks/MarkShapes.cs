using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Marks;

/// <summary>Measures heaps of light: ridge, middle, spread, light, clipping.</summary>
internal static class MarkShapes
{
    /// <summary>Share of a row's peak above which light counts toward its middle. Chosen: flanks of clipped marks lie above it, bloom below.</summary>
    private const double RowLevel = 0.4;

    /// <summary>Rows with less of the fullest row's light than this are left out. Chosen.</summary>
    private const double LeastRow = 0.3;

    public static MarkShape? Measure(LaserLight light, MarkBlob blob, Point2 zeroMm, double distanceMm)
    {
        SheetField field = light.Field;
        double step = SheetField.StepMm * LaserLight.Coarse;
        double x0 = field.FromX + (step / 2) - (SheetField.StepMm / 2);
        double y0 = field.FromY + (step / 2) - (SheetField.StepMm / 2);
        var rows = new SortedDictionary<int, (int From, int To, double Max, double Sum, int At)>();
        foreach (int i in blob.Cells)
        {
            int row = i / light.Width;
            int column = i % light.Width;
            double z = light.Smooth[i];
            if (!rows.TryGetValue(row, out var r))
                r = (column, column, z, 0, column);
            rows[row] = (Math.Min(r.From, column), Math.Max(r.To, column), Math.Max(r.Max, z), r.Sum + Math.Max(0, z - blob.Saddle), z >= r.Max ? column : r.At);
        }

        bool[] member = new bool[light.Width * light.Height];
        foreach (int i in blob.Cells)
            member[i] = true;
        double fullest = rows.Values.Max(r => r.Sum);
        var ridge = new List<RidgePoint>();
        foreach ((int row, var r) in rows)
        {
            if (r.Sum < LeastRow * fullest || r.Max < RowLevel * blob.Peak)
                continue;
            RidgePoint? point = RowMiddle(light, member, row, r.At, r.Max);
            if (point is { } p)
                ridge.Add(new(x0 + (p.XMm * step), y0 + (row * step), p.WidthMm * step, r.Sum / fullest));
        }

        if (ridge.Count == 0)
            return null;
        (double yc, double alongSd) = Along(rows, fullest, y0, step);
        RidgePoint nearest = ridge.MinBy(p => Math.Abs(p.YMm - yc));
        double across = ridge.Where(p => p.Light > 0.6).DefaultIfEmpty(nearest).Average(p => p.WidthMm) / 2.4;
        double x = LocalX(ridge, yc);
        double outMm = Math.Abs(x - zeroMm.X);
        return new()
        {
            Blob = blob,
            Ridge = ridge,
            CentreYMm = yc,
            CentreXMm = x,
            AlongSdMm = alongSd,
            AcrossSdMm = across,
            Flux = rows.Values.Sum(r => r.Sum) * step * step,
            Clipped = Clipping(light, blob),
            AtRim = AtRim(light, blob),
            SignalToNoise = blob.Prominence / light.NoiseAt(blob.Peak),
            IsInk = IsInk(light, blob),
            Side = x >= zeroMm.X ? Side.Right : Side.Left,
            OutMm = outMm,
            RoughDeg = double.RadiansToDegrees(Math.Atan2(outMm, distanceMm)) / 2,
        };
    }

    private static double LocalX(List<RidgePoint> ridge, double y)
    {
        double sw = 0;
        double sx = 0;
        foreach (RidgePoint p in ridge)
        {
            double w = Math.Exp(-0.5 * Math.Pow((p.YMm - y) / 0.7, 2)) + 1e-9;
            sw += w;
            sx += w * p.XMm;
        }

        return sx / sw;
    }

    /// <summary>Middle of a row above one level on both flanks, so that bloom and clipping, which leave the flanks alike, leave it in place.</summary>
    private static RidgePoint? RowMiddle(LaserLight light, bool[] member, int row, int at, double max)
    {
        float[] z = light.Smooth;
        int o = row * light.Width;
        int left = at;
        int right = at;
        double level = RowLevel * max;
        while (left > 0 && member[o + left - 1] && z[o + left - 1] > level)
            left--;
        while (right < light.Width - 1 && member[o + right + 1] && z[o + right + 1] > level)
            right++;
        double leftEnd = left > 0 ? z[o + left - 1] : max;
        double rightEnd = right < light.Width - 1 ? z[o + right + 1] : max;
        double valley = Math.Max(left > 0 && !member[o + left - 1] ? leftEnd : 0, right < light.Width - 1 && !member[o + right + 1] ? rightEnd : 0);
        if (valley > level)
        {
            level = valley;
            if (level > 0.85 * max)
                return null;
            left = at;
            right = at;
            while (left > 0 && z[o + left - 1] > level && member[o + left - 1])
                left--;
            while (right < light.Width - 1 && z[o + right + 1] > level && member[o + right + 1])
                right++;
        }

        double from = Cross(z, o, left, -1, level, light.Width);
        double to = Cross(z, o, right, 1, level, light.Width);
        double sw = 0;
        double sx = 0;
        for (int c = left; c <= right; c++)
        {
            double w = z[o + c] - level;
            sw += w;
            sx += w * c;
        }

        if (sw <= 0)
            return null;
        return new(((sx / sw) + ((from + to) / 2)) / 2, 0, to - from, 0);
    }

    private static double Cross(float[] z, int o, int column, int direction, double level, int width)
    {
        int next = column + direction;
        if (next < 0 || next >= width)
            return column;
        double a = z[o + column];
        double b = z[o + next];
        return a <= b ? column + (0.5 * direction) : column + (direction * Math.Clamp((a - level) / (a - b), 0, 1));
    }

    private static (double Centre, double Sd) Along(SortedDictionary<int, (int From, int To, double Max, double Sum, int At)> rows, double fullest, double y0, double step)
    {
        double sw = 0;
        double sy = 0;
        int over = 0;
        foreach ((int row, var r) in rows)
        {
            double w = Math.Max(0, r.Sum - (0.3 * fullest));
            sw += w;
            sy += w * row;
            over += r.Sum > 0.5 * fullest ? 1 : 0;
        }

        return (y0 + (sy / sw * step), Math.Max(over, 1) * step / 2.355);
    }

    private static double Clipping(LaserLight light, MarkBlob blob)
    {
        int bright = 0;
        int clipped = 0;
        foreach (int i in blob.Cells)
        {
            if (light.Smooth[i] < blob.Peak * 0.5)
                break;
            bright++;
            int fine = (i / light.Width * LaserLight.Coarse * light.Field.Width) + (i % light.Width * LaserLight.Coarse);
            clipped += light.Field.Code[fine] >= 250 ? 1 : 0;
        }

        return bright == 0 ? 0 : (double)clipped / bright;
    }

    /// <summary>Light makes paper brighter than it would be; ink of the laser's colour only darkens the other channels.</summary>
    private static bool IsInk(LaserLight light, MarkBlob blob)
    {
        double seen = 0;
        double paper = 0;
        float[] plane = light.Field.Plane(light.Colour);
        foreach (int i in blob.Cells)
        {
            if (light.Smooth[i] < blob.Saddle + (0.5 * blob.Prominence))
                break;
            int fine = (i / light.Width * LaserLight.Coarse * light.Field.Width) + (i % light.Width * LaserLight.Coarse);
            seen += plane[fine];
            paper += light.Paper[fine];
        }

        return seen < 1.05 * paper;
    }

    private static bool AtRim(LaserLight light, MarkBlob blob)
    {
        foreach (int i in blob.Cells)
        {
            if (light.Smooth[i] < blob.Saddle + (0.5 * blob.Prominence))
                break;
            int row = i / light.Width;
            int column = i % light.Width;
            if (row < 2 || column < 2 || row > light.Height - 3 || column > light.Width - 3)
                return true;
            for (int d = -2; d <= 2; d += 2)
            {
                int fine = ((row * LaserLight.Coarse) * light.Field.Width) + ((column + d) * LaserLight.Coarse);
                if (light.Field.Masked[fine])
                    return true;
            }
        }

        return false;
    }
}
