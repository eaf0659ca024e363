namespace Whetwright.Sight.Outlines;

/// <summary>A notch in the edge: pointed like a V, or round like half an ellipse.</summary>
/// <param name="DepthMm">Greatest depth.</param>
/// <param name="WidthMm">Width at its mouth.</param>
/// <param name="Pointed">V; else round.</param>
internal readonly record struct NotchShape(double DepthMm, double WidthMm, bool Pointed)
{
    /// <summary>0 like a V, 1 like half an ellipse, between them both in that measure.</summary>
    public double Roundness { get; init; } = Pointed ? 0 : 1;

    /// <summary>Depth at a distance along the edge from its middle, mm; 0 outside.</summary>
    public double At(double alongMm)
    {
        double t = Math.Abs(alongMm) / (WidthMm / 2);
        return t >= 1 ? 0 : DepthMm * (((1 - Roundness) * (1 - t)) + (Roundness * Math.Sqrt(1 - (t * t))));
    }

    /// <summary>
    /// Share of each place that is not steel, as a blurred camera sees it: the plane cut at the notch's rim, convolved with a normal density.
    /// </summary>
    /// <param name="half">Columns to each side of the middle.</param>
    /// <param name="rows">Rows, inward.</param>
    /// <param name="stepMm">Distance of columns and rows.</param>
    /// <param name="blurMm">Standard deviation of the blur.</param>
    /// <param name="fromMm">Depth of the outermost row.</param>
    public double[,] OpenShare(int half, int rows, double stepMm, double blurMm, double fromMm = EdgeStrip.FromMm)
    {
        const int parts = 4;
        int reach = (int)Math.Ceiling(3 * blurMm / stepMm);
        int wide = (2 * half) + 1 + (2 * reach);
        double[,] sharp = new double[wide, rows];
        for (int i = 0; i < wide; i++)
        {
            for (int part = 0; part < parts; part++)
            {
                double depth = At((i - reach - half + ((part + 0.5) / parts) - 0.5) * stepMm);
                for (int k = 0; k < rows; k++)
                    sharp[i, k] += Math.Clamp(((depth - fromMm) / stepMm) - k + 0.5, 0, 1) / parts;
            }
        }

        double[] density = [.. Enumerable.Range(-reach, (2 * reach) + 1).Select(j => Math.Exp(-0.5 * Math.Pow(j * stepMm / blurMm, 2)))];
        double all = density.Sum();
        double[,] across = new double[wide, rows];
        double[,] soft = new double[(2 * half) + 1, rows];
        for (int i = 0; i < wide; i++)
        {
            for (int k = 0; k < rows; k++)
            {
                for (int j = -reach; j <= reach; j++)
                    across[i, k] += density[j + reach] / all * sharp[i, Math.Clamp(k + j, 0, rows - 1)];
            }
        }

        for (int i = 0; i <= 2 * half; i++)
        {
            for (int k = 0; k < rows; k++)
            {
                for (int j = 0; j <= 2 * reach; j++)
                    soft[i, k] += density[j] / all * across[i + j, k];
            }
        }

        return soft;
    }
}
