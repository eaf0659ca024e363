using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Marks;

/// <summary>The light before it meets the blade: beam frame, axis along z through the origin, power one.</summary>
public sealed record LaserBeam
{
    public required bool IsLine { get; init; }

    /// <summary>Line lasers: whether the line runs along the edge (the usual way) or across it.</summary>
    public required bool AlongEdge { get; init; }

    public required string Colour { get; init; }

    public required double WavelengthNm { get; init; }

    public required double PowerMw { get; init; }

    /// <summary>Width across the edge, 1/e² or full, mm.</summary>
    public required double AcrossMm { get; init; }

    /// <summary>Width along the edge, mm.</summary>
    public required double AlongMm { get; init; }

    public required bool FlatTopAcross { get; init; }

    public required bool FlatTopAlong { get; init; }

    /// <summary>Direction changes by this much per mm off the axis, mrad.</summary>
    public required double DivergenceMrad { get; init; }

    /// <summary>Distance of the point that a line's fan comes from, behind the edge; null for a dot.</summary>
    public required double? FanSourceMm { get; init; }

    /// <summary>Half the box that holds all but a thousandth of the light.</summary>
    public Vector2 HalfBoxMm => new(AcrossMm * (FlatTopAcross ? 0.6 : 1), AlongMm * (FlatTopAlong ? 0.6 : 1));

    /// <summary>Share of the power per mm² at a place of the plane z = 0.</summary>
    public double At(double x, double y) => Profile(x, AcrossMm / 2, FlatTopAcross) * Profile(y, AlongMm / 2, FlatTopAlong);

    /// <summary>The place of z = 0 whose ray passes through a point.</summary>
    public Point2 Back(double x, double y, double z)
    {
        Vector3 slope = SlopePerMm();
        return new(x / (1 + (slope.X * z)), y / (1 + (slope.Y * z)));
    }

    /// <summary>Direction of the ray through a place of z = 0.</summary>
    public Vector3 Direction(double x, double y)
    {
        Vector3 slope = SlopePerMm();
        var d = new Vector3(x * slope.X, y * slope.Y, 1);
        return d * (1 / d.Norm);
    }

    private Vector3 SlopePerMm()
    {
        double dot = DivergenceMrad * 1e-3;
        if (FanSourceMm is not double fan)
            return new(dot, dot, 0);
        return AlongEdge ? new(dot, 1 / fan, 0) : new(1 / fan, dot, 0);
    }

    // Gaussian: 1/e² radius w. Flat top: logistic-free soft edge, exp(-(r/w)^12), normalised by 2·w·Γ(13/12).
    private static double Profile(double at, double w, bool flat)
    {
        double r = at / w;
        if (!flat)
            return Math.Exp(-2 * r * r) * Math.Sqrt(2 / Math.PI) / w;
        double r2 = r * r;
        double r6 = r2 * r2 * r2;
        return Math.Exp(-r6 * r6) / (2 * w * 0.957889);
    }
}
