using System.Text.Json;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Accuracy;

/// <summary>
/// What perfect mark places give: the true specular points on the sheet, read along the row with the zero and the distance a reader is told,
/// θ = ½ atan(x/L) on each side. Heights are left out: with the zero row not truly known they would only add error.
/// </summary>
internal static class Bound
{
    public static (double? Left, double? Right, double? Included) Of(JsonElement truth, Point2 zeroMm, double distanceMm)
    {
        Vector3? left = Normal(truth, "L", zeroMm, distanceMm);
        Vector3? right = Normal(truth, "R", zeroMm, distanceMm);
        return (Side(left), Side(right), Side(left) + Side(right));
    }

    private static double? Side(Vector3? n) => n is { } v ? double.RadiansToDegrees(Math.Atan2(-v.Z, Math.Abs(v.X))) : null;

    private static Vector3? Normal(JsonElement truth, string side, Point2 zeroMm, double distanceMm)
    {
        foreach (JsonElement spot in truth.GetProperty("spots").EnumerateArray())
        {
            if (spot.GetProperty("side").GetString() != side || spot.GetProperty("facet").GetString() != "bevel" || !spot.TryGetProperty("ideal_mm", out JsonElement at) || at.ValueKind != JsonValueKind.Array)
                continue;
            var plane = new TargetPlane(Length.FromMillimetres(distanceMm));
            Vector3 r = plane.RayTo(new(at[0].GetDouble() - zeroMm.X, 0)).AsVector();
            return UnitVector3.From(r - new Vector3(0, 0, 1)).AsVector();
        }

        return null;
    }
}
