using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>A place of the edge that looks like a chip.</summary>
/// <param name="AtMm">Its middle, along the line from its first station.</param>
/// <param name="Shape">What is missing there, its depth as it is to be told.</param>
/// <param name="LogOdds">Natural logarithm of the odds that it is a chip.</param>
/// <param name="DepthUMm">Standard uncertainty of its depth.</param>
internal sealed record SeenChip(double AtMm, NotchShape Shape, double LogOdds, double DepthUMm);

/// <summary>An edge as it appears on the mat.</summary>
/// <param name="Line">Stations of the smooth edge, evenly spaced, heel to tip.</param>
/// <param name="Inward">Toward the steel there.</param>
/// <param name="Places">Whatever looks like a chip, told or not, heel to tip.</param>
/// <param name="ShadowUMm">How far shadows may have moved it, standard uncertainty.</param>
/// <param name="TipUMm">Standard uncertainty of the tip's place along the edge.</param>
/// <param name="Light">The light along it; null where each section stands for itself.</param>
internal sealed record SeenEdge(Point2[] Line, Vector2[] Inward, IReadOnlyList<SeenChip> Places, double ShadowUMm, double TipUMm, EdgeLight? Light)
{
    /// <summary>Standard uncertainty of the heel's place along the edge.</summary>
    public double HeelUMm { get; init; }

    /// <summary>What is missing from it.</summary>
    public IReadOnlyList<SeenChip> Chips => [.. Places.Where(p => p.LogOdds >= ChipFinder.LeastLogOdds)];

    /// <summary>The edge with its chips at the same stations.</summary>
    public Point2[] AsIs()
    {
        double[] depth = new double[Line.Length];
        foreach (SeenChip chip in Chips)
        {
            double half = chip.Shape.WidthMm / 2;
            for (int i = Station(chip.AtMm - half); i <= Station(chip.AtMm + half); i++)
                depth[i] = Math.Max(depth[i], chip.Shape.At((i * SpacingMm) - chip.AtMm));
        }

        return [.. Line.Select((p, i) => p + (Inward[i] * depth[i]))];
    }

    /// <summary>Number of the station nearest to a distance along the line.</summary>
    public int Station(double alongMm) => Math.Clamp((int)Math.Round(alongMm / SpacingMm), 0, Line.Length - 1);

    public double SpacingMm => Line.Length < 2 ? 1 : Line[0].DistanceTo(Line[1]);
}
