using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Marks;

/// <summary>A strip of the blade's surface, straight along the edge: nodes of its section in the blade's frame, from the edge inward.</summary>
public sealed record Facet(
    Side Side, string Name, double[] X, double[] Z, double[] AngleRad, double SlopeAcross, double SlopeAlong, double SkewRad, double Reflect)
{
    /// <summary>Place and angle at a share of the facet's width.</summary>
    public (double X, double Z, double AngleRad) At(double share)
    {
        double at = share * (X.Length - 1);
        int i = Math.Min((int)at, X.Length - 2);
        double f = at - i;
        return (X[i] + (f * (X[i + 1] - X[i])), Z[i] + (f * (Z[i + 1] - Z[i])), AngleRad[i] + (f * (AngleRad[i + 1] - AngleRad[i])));
    }

    /// <summary>Width along the surface, mm.</summary>
    public double WidthMm { get; } = Enumerable.Range(1, X.Length - 1).Sum(i => Math.Sqrt(((X[i] - X[i - 1]) * (X[i] - X[i - 1])) + ((Z[i] - Z[i - 1]) * (Z[i] - Z[i - 1]))));
}

/// <summary>The blade's section: edge at the origin, spine at positive z, right side at positive x.</summary>
public sealed class EdgeSection
{
    public EdgeSection(EdgeSide right, EdgeSide left, double apexRadiusMm, double landMm, double heightMm)
    {
        List<Facet> facets = [];
        foreach ((Side side, EdgeSide edge, int sign) in (ReadOnlySpan<(Side, EdgeSide, int)>)[(Side.Right, right, 1), (Side.Left, left, -1)])
        {
            double first = double.DegreesToRadians(edge.MicroDeg ?? edge.ApexDeg);
            // The apex: half a land, then an arc from facing the beam to the first facet.
            List<(double X, double Z, double A)> nodes = [(landMm / 2, 0, Math.PI / 2)];
            const int arc = 16;
            for (int i = 1; i <= arc; i++)
            {
                double a = (Math.PI / 2) - (((Math.PI / 2) - first) * i / arc);
                nodes.Add(((landMm / 2) + (apexRadiusMm * Math.Cos(a)), apexRadiusMm * (1 - Math.Sin(a)), a));
            }

            facets.Add(Make(side, "apex", nodes, sign, 0.02, 0.02, 0, edge.ReflectBevel));
            (double x, double z, _) = nodes[^1];
            if (edge is { MicroDeg: double micro, MicroWidthMm: double width })
                (x, z) = Flat(side, "micro", x, z, double.DegreesToRadians(micro), double.DegreesToRadians(micro), width, sign, edge.SlopeAcross, edge.SlopeAlong, edge.SkewDeg, edge.ReflectBevel, facets);
            (x, z) = Flat(side, "bevel", x, z, double.DegreesToRadians(edge.ApexDeg), double.DegreesToRadians(edge.ShoulderDeg), edge.BevelWidthMm, sign, edge.SlopeAcross, edge.SlopeAlong, edge.SkewDeg, edge.ReflectBevel, facets);
            double primary = double.DegreesToRadians(edge.PrimaryDeg);
            double length = Math.Max(1, (heightMm - z) / Math.Cos(primary));
            (x, z) = Flat(side, "primary", x, z, primary, primary, length, sign, edge.PrimarySlopeAcross, edge.PrimarySlopeAlong, edge.PrimarySkewDeg, edge.ReflectPrimary, facets);
        }

        Facets = facets;
        SpineHalfMm = facets.Where(f => f.Name == "primary").Average(f => Math.Abs(f.X[^1]));
    }

    public IReadOnlyList<Facet> Facets { get; }

    public double SpineHalfMm { get; }

    /// <summary>Corners of the section, once round.</summary>
    public IReadOnlyList<Point2> Outline =>
        [.. Facets.Where(f => f.Side == Side.Right).SelectMany(Corners), .. Facets.Where(f => f.Side == Side.Left).Reverse().SelectMany(f => Corners(f).Reverse())];

    private static IEnumerable<Point2> Corners(Facet facet) => facet.X.Zip(facet.Z, (x, z) => new Point2(x, z));

    private static (double X, double Z) Flat(
        Side side, string name, double x, double z, double fromRad, double toRad, double width, int sign, double across, double along, double skewDeg, double reflect, List<Facet> into)
    {
        List<(double X, double Z, double A)> nodes = [(x, z, fromRad)];
        int steps = fromRad == toRad ? 1 : 24;
        for (int i = 0; i < steps; i++)
        {
            double a = fromRad + ((toRad - fromRad) * (i + 0.5) / steps);
            x += width / steps * Math.Sin(a);
            z += width / steps * Math.Cos(a);
            nodes.Add((x, z, fromRad + ((toRad - fromRad) * (i + 1) / steps)));
        }

        into.Add(Make(side, name, nodes, sign, across, along, double.DegreesToRadians(skewDeg), reflect));
        return (x, z);
    }

    private static Facet Make(Side side, string name, List<(double X, double Z, double A)> nodes, int sign, double across, double along, double skewRad, double reflect) =>
        new(side, name, [.. nodes.Select(n => sign * n.X)], [.. nodes.Select(n => n.Z)], [.. nodes.Select(n => n.A)], across, along, skewRad, reflect);
}
