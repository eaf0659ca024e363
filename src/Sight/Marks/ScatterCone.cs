namespace Whetwright.Sight.Marks;

/// <summary>
/// The arc that a scratched facet throws. Scratches along s scatter the beam d onto the cone r·s = d·s, which holds the bare beam
/// (zero) and the specular ray. On a sheet square to the beam at distance L, x outward from zero, y along the edge from the reading row,
/// facet angle θ, scratches skewed by κ from square to the edge, t = tan θ, g = tan κ / cos θ:
/// (1 − t²)x² − 2t(L + g y)x + y² − 2 g y L − g²y² = 0, the outer root. At y = 0 it gives x = L tan 2θ.
/// Leaves out pitch of the edge (it moves the row, not the shape to first order). Source: derived in docs/conventions.md.
/// </summary>
internal static class ScatterCone
{
    /// <summary>x outward at height y, or NaN above the arc's top.</summary>
    public static double X(double distanceMm, double thetaRad, double g, double y)
    {
        double t = Math.Tan(thetaRad);
        double a = 1 - (t * t);
        double b = t * (distanceMm + (g * y));
        double c = (y * y) - (2 * g * y * distanceMm) - (g * g * y * y);
        double root = (b * b) - (a * c);
        return root < 0 ? double.NaN : (b + Math.Sqrt(root)) / a;
    }
}
