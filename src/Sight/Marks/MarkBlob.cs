namespace Whetwright.Sight.Marks;

/// <summary>A heap of laser light on the coarse grid: a maximum and the cells that belong to it rather than to a neighbour.</summary>
/// <param name="Cells">Indices into the coarse grid, brightest first.</param>
/// <param name="Peak">Light at the maximum.</param>
/// <param name="Saddle">Light where it meets a higher neighbour; zero where it stands alone.</param>
internal sealed record MarkBlob(IReadOnlyList<int> Cells, double Peak, double Saddle)
{
    /// <summary>How far the maximum stands above what joins it to others.</summary>
    public double Prominence => Peak - Saddle;
}

/// <summary>
/// Parts the light into heaps by persistence: cells are taken from bright to dark and joined to their neighbours; where two heaps meet,
/// the lower one stays a heap of its own if it stands far enough above the saddle, else it is swallowed.
/// </summary>
internal static class MarkBlobs
{
    /// <summary>Least height above the saddle in noise units, and as a part of the heap's own height. Chosen, not derived.</summary>
    private const double LeastNoise = 6;

    private const double LeastPart = 0.1;

    public static IReadOnlyList<MarkBlob> In(LaserLight light)
    {
        float[] z = light.Smooth;
        double floor = 4 * light.NoiseSd;
        int[] order = BrightestFirst(light, floor);
        int[] heap = new int[z.Length];
        Array.Fill(heap, -1);
        var parent = new List<int>();
        var peak = new List<double>();
        var saddle = new List<double>();
        var settled = new List<bool>();
        int width = light.Width;
        Span<int> near = stackalloc int[8];
        foreach (int i in order)
        {
            int count = 0;
            int row = i / width;
            int column = i % width;
            for (int dy = -1; dy <= 1; dy++)
            {
                for (int dx = -1; dx <= 1; dx++)
                {
                    int r = row + dy;
                    int c = column + dx;
                    if ((dx == 0 && dy == 0) || r < 0 || c < 0 || r >= light.Height || c >= width || heap[(r * width) + c] < 0)
                        continue;
                    near[count++] = heap[(r * width) + c];
                }
            }

            if (count == 0)
            {
                heap[i] = parent.Count;
                parent.Add(parent.Count);
                peak.Add(z[i]);
                saddle.Add(0);
                settled.Add(false);
                continue;
            }

            int own = -1;
            double best = double.NegativeInfinity;
            for (int k = 0; k < count; k++)
            {
                int id = Swallowed(parent, near[k]);
                if (peak[id] > best)
                    (own, best) = (id, peak[id]);
            }

            for (int k = 0; k < count; k++)
            {
                int id = Swallowed(parent, near[k]);
                if (id == own || settled[id])
                    continue;
                if (peak[id] - z[i] > Math.Max(LeastNoise * light.NoiseAt(peak[id]), LeastPart * peak[id]))
                {
                    settled[id] = true;
                    saddle[id] = z[i];
                }
                else
                {
                    parent[id] = own;
                }
            }

            heap[i] = NearestUnsettled(parent, settled, near[..count], own);
        }

        var cells = new List<int>[parent.Count];
        foreach (int i in order)
            (cells[Swallowed(parent, heap[i])] ??= []).Add(i);
        var blobs = new List<MarkBlob>();
        for (int id = 0; id < parent.Count; id++)
        {
            if (parent[id] != id || cells[id] is null)
                continue;
            if (peak[id] - saddle[id] > LeastNoise * light.NoiseAt(peak[id]) && peak[id] > 0.003)
                blobs.Add(new(cells[id], peak[id], saddle[id]));
        }

        return blobs;
    }

    private static int[] BrightestFirst(LaserLight light, double floor)
    {
        float[] z = light.Smooth;
        int[] order = new int[z.Length];
        float[] darkness = new float[z.Length];
        int count = 0;
        for (int i = 0; i < z.Length; i++)
        {
            if (z[i] > floor && !light.IsBlade(i % light.Width, i / light.Width))
                (order[count], darkness[count++]) = (i, -z[i]);
        }

        Array.Sort(darkness, order, 0, count);
        return order[..count];
    }

    /// <summary>A cell below a settled heap's saddle goes to the neighbour it touches; ties go to the higher heap.</summary>
    private static int NearestUnsettled(List<int> parent, List<bool> settled, ReadOnlySpan<int> near, int own)
    {
        Span<int> votes = stackalloc int[near.Length];
        int best = own;
        int most = 0;
        for (int k = 0; k < near.Length; k++)
        {
            int id = Swallowed(parent, near[k]);
            int n = 0;
            for (int m = 0; m < near.Length; m++)
                n += Swallowed(parent, near[m]) == id ? 1 : 0;
            votes[k] = n;
            if (n > most || (n == most && id == own))
                (best, most) = (id, n);
        }

        return settled.Count > best ? best : own;
    }

    private static int Swallowed(List<int> parent, int id)
    {
        while (parent[id] != id)
            id = parent[id] = parent[parent[id]];
        return id;
    }
}
