using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// A blade leaning in a fixed jaw against a wheel, in space: the holder's plane (tilted by τ against the mid-plane about the jaw's front) slides and turns
/// on the bar, which stays in it; the edge's tangent lies in the wheel's tangent plane at the contact, or the edge would cross the wheel. Where the
/// tangent is not along the jaw's line it cannot be parallel to the bar, and the closed form, which takes it so, is left. Solved numerically; blade frame
/// with z away from the wheel. Source: derived in docs/conventions.md.
/// </summary>
public static class FixedJawContact
{
    private const double StepRad = 0.002;

    private const int MostSteps = 150;

    /// <summary>α at an edge point, rad; NaN where the edge cannot lie against the wheel there.</summary>
    /// <param name="wheelRadiusMm">R.</param>
    /// <param name="barDistanceMm">D.</param>
    /// <param name="pivot">Foot of the bar on the mid-plane, J.</param>
    /// <param name="offsetMm">Q at the pivot.</param>
    /// <param name="leanRad">τ with the sign of <see cref="Grip.Sign"/>.</param>
    /// <param name="holderTurnRad">The holder's turn in the blade's plane (planeTilt).</param>
    /// <param name="edge">The edge point.</param>
    /// <param name="tangent">The edge's unit tangent there, heel to tip.</param>
    public static double AngleRad(
        double wheelRadiusMm, double barDistanceMm, Point2 pivot, double offsetMm, double leanRad, double holderTurnRad, Point2 edge, Point2 tangent)
    {
        (double sinLean, double cosLean) = Math.SinCos(leanRad);
        (double sinTurn, double cosTurn) = Math.SinCos(holderTurnRad);
        Vector3 plane = new(sinLean * sinTurn, sinLean * cosTurn, cosLean);
        Vector3 jawLine = new(cosTurn, -sinTurn, 0);
        Vector3 across = plane.Cross(jawLine);
        Vector3 along = new(tangent.X, tangent.Y, 0);
        Vector3 toEdge = new(edge.X - pivot.X, edge.Y - pivot.Y, -offsetMm);

        Vector3 Normal(double turn)
        {
            Vector3 bar = (jawLine * Math.Cos(turn)) + (across * Math.Sin(turn));
            Vector3 reach = toEdge - (bar * toEdge.Dot(bar));
            double length = reach.Norm;
            Vector3 first = reach * (1 / length), second = bar.Cross(first);
            double u = ((barDistanceMm * barDistanceMm) - (wheelRadiusMm * wheelRadiusMm) + (length * length)) / (2 * length);
            double w = Math.Sqrt((barDistanceMm * barDistanceMm) - (u * u));
            Vector3 axis = (first * u) + (second * (second.Z < 0 ? w : -w));
            return (reach - axis) * (1 / wheelRadiusMm);
        }

        double Miss(double turn) => Normal(turn).Dot(along);

        double start = Math.Atan2(along.Dot(across), along.Dot(jawLine));
        double at = Miss(start);
        if (Math.Abs(at) < 1e-14)
            return Math.Acos(Math.Abs(Normal(start).Z));
        for (int step = 1; step <= MostSteps; step++)
        {
            foreach (int way in (ReadOnlySpan<int>)[1, -1])
            {
                double outer = start + (way * step * StepRad), inner = outer - (way * StepRad);
                if (!(Miss(inner) * Miss(outer) <= 0))
                    continue;
                for (int pass = 0; pass < 60; pass++)
                {
                    double middle = 0.5 * (inner + outer);
                    if (Miss(inner) * Miss(middle) <= 0)
                        outer = middle;
                    else
                        inner = middle;
                }

                return Math.Acos(Math.Min(1, Math.Abs(Normal(0.5 * (inner + outer)).Z)));
            }
        }

        return double.NaN;
    }
}
