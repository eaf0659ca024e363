using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;

namespace Whetwright.Sight.Reading;

/// <summary>The unknowns that turn a place on the sheet into a bevel, as one vector to vary.</summary>
internal sealed record InversionPoint(double DistanceMm, double ZeroXMm, double Y0Mm, double Tau, double TanPitch, double YawRad, double SheetPitchRad, double Scale)
{
    /// <summary>
    /// The bevel as read: the facet's normal n = (r − d)/|r − d| seen in the plane square to the edge e ∝ (−τ, 1, tan φ),
    /// from the plane that holds e and the beam. Two facets of one edge then sum to the included angle exactly.
    /// </summary>
    public double AsReadRad(Side side, RidgeFit fit, double nearXMm)
    {
        double sign = side == Side.Right ? 1 : -1;
        double x = nearXMm;
        double y = 0;
        for (int i = 0; i < 3; i++)
        {
            y = Row(x);
            double outMm = fit.OutMm(y);
            if (double.IsNaN(outMm))
                break;
            x = sign * outMm;
        }

        return AsReadRad(side, x, y);
    }

    /// <summary>
    /// The bevel as read at a place of the sheet, from the target's zero. Marks of one facet lie on the cone about its scratches: seen in the plane square to the
    /// edge all of them give the same bevel, so the place need not lie on the row.
    /// </summary>
    public double AsReadRad(Side side, double x, double y)
    {
        double sign = side == Side.Right ? 1 : -1;
        var plane = new TargetPlane(
            Length.FromMillimetres(DistanceMm), new Point2(ZeroXMm, Y0Mm), Angle.FromRadians(YawRad), Angle.FromRadians(SheetPitchRad));
        Vector3 d = new(0, 0, 1);
        Vector3 n = UnitVector3.From(plane.RayTo(new(x * Scale, y * Scale)).AsVector() - d).AsVector();
        Vector3 e = UnitVector3.From(-Tau, 1, TanPitch).AsVector();
        Vector3 z = UnitVector3.From(d - (e * d.Dot(e))).AsVector();
        Vector3 across = e.Cross(z);
        return Math.Atan2(-n.Dot(z), sign * n.Dot(across));
    }

    public Point2 Place(Side side, RidgeFit fit, double nearXMm)
    {
        double sign = side == Side.Right ? 1 : -1;
        double x = nearXMm;
        for (int i = 0; i < 3; i++)
        {
            double outMm = fit.OutMm(Row(x));
            if (double.IsNaN(outMm))
                break;
            x = sign * outMm;
        }

        return new(x, Row(x));
    }

    private double Row(double x) => Y0Mm + (Tau * x) + (TanPitch * (Math.Sqrt((x * x) + (DistanceMm * DistanceMm)) - DistanceMm));
}
