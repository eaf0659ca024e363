namespace Whetwright.Sight.Marks;

/// <summary>
/// Parts heaps that touch somewhere but are plainly two along the reading row: a primary's broad scatter often leans against the edge's mark
/// above or below the row. Where the light, averaged over a band about the row, has a valley, the heap is cut along the valley.
/// </summary>
internal static class BlobSplit
{
    /// <summary>Half height of the band, mm, and least depth of a valley as a part of the lower neighbour. Chosen, not derived.</summary>
    private const double HalfBandMm = 3.5;

    private const double LeastDepth = 0.1;

    public static IReadOnlyList<MarkBlob> Along(LaserLight light, IReadOnlyList<MarkBlob> blobs, double rowMm)
    {
        double step = SheetField.StepMm * LaserLight.Coarse;
        int middle = (int)Math.Round((rowMm - light.Field.FromY) / step);
        int half = (int)(HalfBandMm / step);
        int from = Math.Clamp(middle - half, 0, light.Height - 1);
        int to = Math.Clamp(middle + half, 0, light.Height - 1);
        double[] profile = new double[light.Width];
        for (int column = 0; column < light.Width; column++)
        {
            for (int row = from; row <= to; row++)
                profile[column] += light.Smooth[(row * light.Width) + column];
            profile[column] /= to - from + 1;
        }

        double noise = light.NoiseSd * 3;
        return [.. blobs.SelectMany(b => Split(light, b, profile, middle, from, to, noise))];
    }

    private static List<MarkBlob> Split(LaserLight light, MarkBlob blob, double[] profile, int middle, int from, int to, double noise)
    {
        int left = int.MaxValue;
        int right = -1;
        foreach (int i in blob.Cells)
        {
            int row = i / light.Width;
            if (row < from || row > to)
                continue;
            left = Math.Min(left, i % light.Width);
            right = Math.Max(right, i % light.Width);
        }

        if (right - left < 6)
            return [blob];
        List<int> valleys = Valleys(profile, left, right, noise);
        if (valleys.Count == 0)
            return [blob];
        var seams = valleys.Select(v => Seam(light, v, middle)).ToList();
        var parts = new List<int>[seams.Count + 1];
        foreach (int i in blob.Cells)
        {
            int row = i / light.Width;
            int column = i % light.Width;
            int part = 0;
            while (part < seams.Count && column > seams[part][row])
                part++;
            (parts[part] ??= []).Add(i);
        }

        var split = new List<MarkBlob>();
        for (int p = 0; p < parts.Length; p++)
        {
            if (parts[p] is not { Count: > 0 } cells)
                continue;
            double peak = light.Smooth[cells[0]];
            double saddle = blob.Saddle;
            if (p > 0)
                saddle = Math.Max(saddle, profile[valleys[p - 1]]);
            if (p < valleys.Count)
                saddle = Math.Max(saddle, profile[valleys[p]]);
            split.Add(new(cells, peak, Math.Min(saddle, 0.95 * peak)));
        }

        return split;
    }

    /// <summary>Valleys of a profile by one-dimensional persistence: both sides rise by enough before they fall again.</summary>
    private static List<int> Valleys(double[] profile, int left, int right, double noise)
    {
        var valleys = new List<int>();
        double top = profile[left];
        int low = -1;
        for (int c = left; c <= right; c++)
        {
            double z = profile[c];
            if (low < 0)
            {
                if (z > top)
                    top = z;
                else if (z < top - Depth(top, noise))
                    low = c;
                continue;
            }

            if (z < profile[low])
                low = c;
            double rise = z - profile[low];
            double lower = Math.Min(top, z);
            if (rise > Depth(lower, noise) && lower - profile[low] > Depth(lower, noise))
            {
                valleys.Add(low);
                top = z;
                low = -1;
            }
        }

        return valleys;
    }

    private static double Depth(double height, double noise) => Math.Max(LeastDepth * height, noise);

    /// <summary>The valley's column in every row, followed from the band up and down.</summary>
    private static int[] Seam(LaserLight light, int column, int middle)
    {
        int[] seam = new int[light.Height];
        int start = Math.Clamp(middle, 0, light.Height - 1);
        foreach (int direction in new[] { 1, -1 })
        {
            int at = column;
            for (int row = start; row >= 0 && row < light.Height; row += direction)
            {
                int best = at;
                for (int c = Math.Max(0, at - 1); c <= Math.Min(light.Width - 1, at + 1); c++)
                {
                    if (light.Smooth[(row * light.Width) + c] < light.Smooth[(row * light.Width) + best])
                        best = c;
                }

                if (Math.Abs(best - column) <= 8)
                    at = best;
                seam[row] = at;
            }
        }

        return seam;
    }
}
