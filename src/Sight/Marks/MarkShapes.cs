using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Marks;

/// <summary>Measures heaps of light: ridge, middle, spread, light, clipping.</summary>
internal static class MarkShapes
{
    /// <summary>Share of a row's peak above which light counts toward its middle. Chosen: flanks of clipped marks lie above it, bloom below.</summary>
    private const double RowLevel = 0.4;

    /// <summary>Part of a heap's height above which its light tells where its middle along the arc is, and how far from the arc that light may be. Chosen.</summary>
    private const double LeastAlong = 0.35;

    private const double WidestArcRad = 0.13;

    /// <summary>Nearer zero than this part of the distance, arcs are no taller than the beam and are taken straight up and down.</summary>
    private const double InnerPart = 0.18;

    /// <summary>A top nearer to what cuts the row off than this part of its open half width may be no top. Chosen.</summary>
    private const double LeastSeen = 0.5;

    /// <summary>A row wider than this many times the usual one is left out, as long as most of the ridge stays. Chosen.</summary>
    private const double WidestRow = 1.5;

    private const double MostOfRidge = 0.6;

    /// <summary>Rows with less of the fullest row's light than this are left out. Chosen.</summary>
    private const double LeastRow = 0.3;

    /// <summary>Measures heaps that share no cell; those of which nothing is left to measure are missing.</summary>
    public static List<MarkShape> Measure(LaserLight light, IReadOnlyList<MarkBlob> blobs, Point2 zeroMm, double distanceMm)
    {
        // Which heap a cell belongs to, counted from 1: one plane for all, for planes are large.
        short[] owner = new short[light.Width * light.Height];
        for (int b = 0; b < blobs.Count; b++)
        {
            foreach (int i in blobs[b].Cells)
                owner[i] = (short)(b + 1);
        }

        return [.. blobs.Select((b, i) => Measure(light, b, owner, (short)(i + 1), zeroMm, distanceMm)).OfType<MarkShape>()];
    }

    /// <summary>Measures one heap; null where nothing of it is left to measure.</summary>
    public static MarkShape? Measure(LaserLight light, MarkBlob blob, Point2 zeroMm, double distanceMm) =>
        Measure(light, [blob], zeroMm, distanceMm).FirstOrDefault();

    private static MarkShape? Measure(LaserLight light, MarkBlob blob, short[] owner, short id, Point2 zeroMm, double distanceMm)
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

        double fullest = rows.Values.Max(r => r.Sum);
        var ridge = new List<RidgePoint>();
        foreach ((int row, var r) in rows)
        {
            if (r.Sum < LeastRow * fullest || r.Max < RowLevel * blob.Peak)
                continue;
            RidgePoint? point = RowMiddle(light, owner, id, row, r.At, r.Max);
            if (point is { } p)
                ridge.Add(new(x0 + (p.XMm * step), y0 + (row * step), p.WidthMm * step, r.Sum / fullest) { Cut = p.Cut });
        }

        if (ridge.Count == 0)
            return null;
        // Rows far wider than the rest carry something else beside the arc: a glint or a nick's own light.
        double usual = SmoothSurface.Quantile(ridge.Select(p => p.WidthMm), 0.5);
        if (ridge.Count(p => p.WidthMm < WidestRow * usual) is var plain && plain >= MostOfRidge * ridge.Count)
            ridge = [.. ridge.Where(p => p.WidthMm < WidestRow * usual)];
        (double yc, double alongSd) = Along(light, blob, new(x0, y0), step, zeroMm, distanceMm);
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
            FacetRad = FacetRad(x - zeroMm.X, yc - zeroMm.Y, distanceMm),
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

    /// <summary>
    /// Middle of a row between its two flanks. Each flank is taken half way between the top and the light just outside it, so that bloom, the
    /// halo of a brighter neighbour and clipping, which lift or cut whole flanks, move the middle little.
    /// </summary>
    private static RidgePoint? RowMiddle(LaserLight light, short[] owner, short id, int row, int at, double max)
    {
        int o = row * light.Width;
        (double At, double Level, bool Cut)? left = Flank(light, owner, id, row, at, -1, max);
        (double At, double Level, bool Cut)? right = Flank(light, owner, id, row, at, 1, max);
        if (left is not { } l || right is not { } r || (l.Cut && r.Cut))
            return null;
        if (l.Cut || r.Cut)
        {
            double blocked = l.Cut ? at - l.At : r.At - at;
            double open = l.Cut ? r.At - at : at - l.At;
            return new(at, 0, 2 * open, 0) { Cut = blocked < Math.Max(1.5, LeastSeen * open) ? RidgeCut.Top : RidgeCut.Flank };
        }

        if (r.At - l.At < 0.2)
            return null;
        double sw = 0;
        double sx = 0;
        for (int c = (int)Math.Ceiling(l.At); c <= (int)Math.Floor(r.At); c++)
        {
            double level = l.Level + ((r.Level - l.Level) * (c - l.At) / (r.At - l.At));
            double w = Math.Max(0, light.Smooth[o + c] - level);
            sw += w;
            sx += w * c;
        }

        double middle = (l.At + r.At) / 2;
        return new(sw > 0 ? ((sx / sw) + middle) / 2 : middle, 0, r.At - l.At, 0);
    }

    private static (double At, double Level, bool Cut)? Flank(LaserLight light, short[] owner, short id, int row, int at, int direction, double max)
    {
        float[] z = light.Smooth;
        int o = row * light.Width;
        int c = at;
        int reach = 0;
        double low = max;
        while (true)
        {
            int next = c + direction;
            if (light.IsBlocked(next, row))
            {
                if (low > 0.5 * max)
                    return (c, low, true);
                break;
            }

            double v = z[o + next];
            if (low < RowLevel * max && reach == 0)
                reach = Math.Abs(next - at);
            if (v > low + (0.03 * max) || owner[o + next] != id || low < 0.05 * max || (reach > 0 && Math.Abs(next - at) > (2 * reach) + 8))
            {
                low = Math.Min(low, Math.Max(v, 0));
                break;
            }

            low = Math.Min(low, v);
            c = next;
        }

        if (low > 0.85 * max)
            return null;
        double level = Math.Max(0, low) + (0.5 * (max - Math.Max(0, low)));
        int k = at;
        while (k + direction >= 0 && k + direction < light.Width && z[o + k + direction] > level)
            k += direction;
        return (Cross(z, o, k, direction, level, light.Width), level, false);
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

    /// <summary>
    /// Middle of the light along the arc. It is sought in the slope that the scattering facet element has along the edge,
    /// v = n_y with n = (r − d)/|r − d|: in v the light is symmetric about the specular point, while in y a long arc folds back at its ends.
    /// </summary>
    private static (double CentreMm, double SdMm) Along(LaserLight light, MarkBlob blob, Point2 originMm, double step, Point2 zeroMm, double distanceMm)
    {
        int top = blob.Cells[0];
        double scale = SlopeScale(originMm.X + (top % light.Width * step) - zeroMm.X, originMm.Y + (top / light.Width * step) - zeroMm.Y, distanceMm);
        double facet = SmoothSurface.Quantile(
            blob.Cells.TakeWhile(i => light.Smooth[i] - blob.Saddle > 0.6 * blob.Prominence)
                .Select(i => FacetRad(originMm.X + (i % light.Width * step) - zeroMm.X, originMm.Y + (i / light.Width * step) - zeroMm.Y, distanceMm)),
            0.5);
        bool inner = Math.Abs(originMm.X + (top % light.Width * step) - zeroMm.X) < InnerPart * distanceMm;
        double bin = step / scale;
        const int half = 400;
        double[] sum = new double[(2 * half) + 2];
        double[] height = new double[(2 * half) + 2];
        foreach (int i in blob.Cells)
        {
            double w = light.Smooth[i] - blob.Saddle;
            if (w < LeastAlong * blob.Prominence)
                break;
            double x = originMm.X + (i % light.Width * step) - zeroMm.X;
            double y = originMm.Y + (i / light.Width * step) - zeroMm.Y;
            if (!inner && Math.Abs(FacetRad(x, y, distanceMm) - facet) > WidestArcRad)
                continue;
            double at = (y / (inner ? scale : SlopeScale(x, y, distanceMm)) / bin) + half;
            int k = (int)Math.Floor(at);
            if (k < 0 || k > 2 * half)
                continue;
            double part = at - k;
            sum[k] += (1 - part) * w;
            sum[k + 1] += part * w;
            height[k] += (1 - part) * w * y;
            height[k + 1] += part * w * y;
        }

        double most = sum.Max();
        double sw = 0;
        double sv = 0;
        int over = 0;
        for (int k = 0; k < sum.Length; k++)
        {
            double w = Math.Max(0, sum[k] - (0.3 * most));
            sw += w;
            sv += w * k;
            over += sum[k] > 0.5 * most ? 1 : 0;
        }

        int centre = (int)Math.Round(sv / sw);
        double yw = 0;
        double yy = 0;
        for (int k = Math.Max(0, centre - 1); k <= Math.Min(sum.Length - 1, centre + 1); k++)
        {
            yw += sum[k];
            yy += height[k];
        }

        double offset = yw > 0 ? yy / yw : (centre - half) * step;
        return (zeroMm.Y + offset + (((sv / sw) - centre) * step), Math.Max(over, 1) * step / 2.355);
    }

    private static double FacetRad(double x, double y, double distanceMm) =>
        Math.Atan2(Math.Sqrt((x * x) + (y * y) + (distanceMm * distanceMm)) - distanceMm, Math.Abs(x));

    /// <summary>|r − d| scaled to the sheet: millimetres of height per unit of the normal's slope along the edge.</summary>
    private static double SlopeScale(double x, double y, double distanceMm)
    {
        double reach = Math.Sqrt((x * x) + (y * y) + (distanceMm * distanceMm));
        return Math.Max(2, Math.Sqrt((x * x) + (y * y) + ((reach - distanceMm) * (reach - distanceMm))));
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

        // In a soft shadow the paper itself is dimmer: then so is all about the mark, which ink would leave white.
        return seen < 1.05 * paper && seen < 1.05 * paper * ShadeAbout(light, blob);
    }

    /// <summary>Room light about a heap as a part of what unshaded paper would send back: the brighter quarter of a frame around it.</summary>
    private static double ShadeAbout(LaserLight light, MarkBlob blob)
    {
        const int away = 4;
        int left = int.MaxValue;
        int right = 0;
        int top = int.MaxValue;
        int bottom = 0;
        foreach (int i in blob.Cells)
        {
            if (light.Smooth[i] < blob.Saddle + (0.3 * blob.Prominence))
                break;
            left = Math.Min(left, i % light.Width);
            right = Math.Max(right, i % light.Width);
            top = Math.Min(top, i / light.Width);
            bottom = Math.Max(bottom, i / light.Width);
        }

        var shades = new List<double>();
        for (int row = Math.Max(0, top - away); row <= Math.Min(light.Height - 1, bottom + away); row++)
        {
            bool whole = row < top - 1 || row > bottom + 1;
            for (int column = Math.Max(0, left - away); column <= Math.Min(light.Width - 1, right + away); column++)
            {
                if (!whole && column >= left - 1 && column <= right + 1)
                    continue;
                int fine = (row * LaserLight.Coarse * light.Field.Width) + (column * LaserLight.Coarse);
                if (!light.Field.Masked[fine] && light.Paper[fine] > 1e-4f)
                    shades.Add(light.Room[fine] / light.Paper[fine]);
            }
        }

        return shades.Count == 0 ? 1 : SmoothSurface.Quantile(shades, 0.75);
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
