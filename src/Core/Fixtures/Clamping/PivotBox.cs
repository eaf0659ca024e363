using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>Where the pivot's foot may stand, in the blade frame: x along the edge, distance = −y. A side of no width fixes that coordinate.</summary>
public sealed record PivotBox(double LeastXMm, double MostXMm, double LeastDistanceMm, double MostDistanceMm)
{
    /// <summary>The middle.</summary>
    public Point2 Middle => new((LeastXMm + MostXMm) / 2, -(LeastDistanceMm + MostDistanceMm) / 2);

    /// <summary>True where the foot lies within.</summary>
    public bool Holds(Point2 pivot) =>
        pivot.X >= LeastXMm && pivot.X <= MostXMm && -pivot.Y >= LeastDistanceMm && -pivot.Y <= MostDistanceMm;

    /// <summary>What is wrong with the box, naming its field; empty where nothing is.</summary>
    public IReadOnlyList<Reason> Refusals()
    {
        List<Reason> reasons = [];
        Check("pivotXMm", LeastXMm, MostXMm, double.NegativeInfinity);
        Check("pivotDistanceMm", LeastDistanceMm, MostDistanceMm, 0);
        return reasons;

        void Check(string field, double least, double most, double floor)
        {
            if (!double.IsFinite(least) || !double.IsFinite(most) || least > most || least <= floor)
            {
                reasons.Add(new("pivot-box", string.Create(
                    CultureInfo.InvariantCulture,
                    $"{field} is [{least}, {most}]; it should be two finite numbers, the smaller first{(floor == 0 ? ", above 0" : "")}.")));
            }
        }
    }
}
