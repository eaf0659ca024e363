namespace Whetwright.Core.Sections;

/// <summary>
/// Area and volume between an old outline and a new one inside it. In each column the thickness is t(d) = t_e + (T − t_e) d / h at depth d under the
/// old edge, h deep; so a piece from d₁ to d₂ holds t_e (d₂ − d₁) + (T − t_e)(d₂² − d₁²) / 2h. Columns are added by Simpson's rule between all corners.
/// Source: derived here; thins to the tip are left out.
/// </summary>
internal static class RemovedSteel
{
    private const int Parts = 4;

    public static (double AreaMm2, double VolumeMm3) Of(
        ReshapeInput input, ProfileLine oldEdge, ProfileLine oldSpine, ProfileLine newEdge, ProfileLine newSpine, double newToMm)
    {
        var stops = new SortedSet<double>(oldEdge.CommonStations(oldSpine));
        double least = stops.Min, most = stops.Max;
        foreach (double x in oldEdge.CommonStations(newEdge).Concat(oldSpine.CommonStations(newSpine)).Concat(newEdge.CommonStations(newSpine)).Append(newToMm))
        {
            if (x > least && x < most)
                stops.Add(x);
        }
        double[] xs = [.. stops];
        double area = 0, volume = 0;
        for (int i = 0; i + 1 < xs.Length; i++)
        {
            bool isGone = xs[i] >= newToMm - 1e-12;
            double step = (xs[i + 1] - xs[i]) / Parts;
            for (int k = 0; k < Parts; k++)
            {
                double a = xs[i] + (k * step), b = a + step;
                (double a0, double v0) = Column(a, isGone);
                (double a1, double v1) = Column((a + b) / 2, isGone);
                (double a2, double v2) = Column(b, isGone);
                area += (a0 + (4 * a1) + a2) * step / 6;
                volume += (v0 + (4 * v1) + v2) * step / 6;
            }
        }
        return (Math.Max(0, area), Math.Max(0, volume));

        (double, double) Column(double x, bool isGone)
        {
            double top = oldEdge.At(x), deep = Math.Max(0, top - oldSpine.At(x));
            if (isGone)
                return Piece(0, deep, deep);
            double fromEdge = Math.Clamp(top - newEdge.At(x), 0, deep), fromSpine = Math.Clamp(top - newSpine.At(x), fromEdge, deep);
            (double a1, double v1) = Piece(0, fromEdge, deep);
            (double a2, double v2) = Piece(fromSpine, deep, deep);
            return (a1 + a2, v1 + v2);
        }

        (double, double) Piece(double from, double to, double deep) => deep <= 0 || to <= from
            ? (0, 0)
            : (to - from, (input.BehindEdgeMm * (to - from)) + ((input.SpineThicknessMm - input.BehindEdgeMm) * ((to * to) - (from * from)) / (2 * deep)));
    }
}
