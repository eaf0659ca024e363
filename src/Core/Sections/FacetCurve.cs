namespace Whetwright.Core.Sections;

/// <summary>
/// Half-thickness of one facet over its apex: x(y) = y tan θ for a flat one; for an arc that leaves the apex at θ,
/// x = R (cos θ − cos ψ) with sin ψ = sin θ + y/R. R positive is hollow (the angle grows toward the shoulder), negative is convex.
/// </summary>
/// <param name="AngleRad">θ at the apex, 0 or more.</param>
/// <param name="RadiusMm">R, or infinity for a flat facet.</param>
internal readonly record struct FacetCurve(double AngleRad, double RadiusMm)
{
    public static FacetCurve From(double angleDeg, double? radiusMm) =>
        new(double.DegreesToRadians(angleDeg), angleDeg == 0 ? double.PositiveInfinity : radiusMm ?? double.PositiveInfinity);

    public bool IsFlat => double.IsInfinity(RadiusMm);

    /// <summary>Height over the apex up to which the arc still runs upward and outward (a quarter circle at most).</summary>
    public double ReachMm => IsFlat
        ? double.PositiveInfinity
        : RadiusMm > 0 ? RadiusMm * (1 - Math.Sin(AngleRad)) : -RadiusMm * Math.Sin(AngleRad);

    /// <summary>Half-thickness at height y ≥ 0 over the facet's apex; zero under it, held at its end beyond its reach.</summary>
    public double HalfMm(double y)
    {
        if (y <= 0)
            return 0;
        if (IsFlat)
            return y * Math.Tan(AngleRad);
        double psi = TangentRad(y);
        // cos θ − cos ψ without cancellation
        return 2 * RadiusMm * Math.Sin((psi + AngleRad) / 2) * Math.Sin((psi - AngleRad) / 2);
    }

    /// <summary>Angle of the tangent to the mid-plane at height y.</summary>
    public double TangentRad(double y) =>
        IsFlat ? AngleRad : Math.Asin(Math.Clamp(Math.Sin(AngleRad) + (y / RadiusMm), -1, 1));

    /// <summary>Height at which the half-thickness is x, or infinity where the arc ends before.</summary>
    public double HeightMm(double x)
    {
        if (x <= 0)
            return 0;
        if (IsFlat)
            return AngleRad > 0 ? x / Math.Tan(AngleRad) : double.PositiveInfinity;
        double cosPsi = Math.Cos(AngleRad) - (x / RadiusMm);
        return cosPsi is < 0 or > 1 ? double.PositiveInfinity : RadiusMm * (Math.Sqrt(1 - (cosPsi * cosPsi)) - Math.Sin(AngleRad));
    }

    /// <summary>∫ x dy from 0 to y.</summary>
    public double AreaMm2(double y)
    {
        if (y <= 0)
            return 0;
        if (IsFlat)
            return y * y * Math.Tan(AngleRad) / 2;
        double psi = TangentRad(y);
        double phi = Math.Abs(psi - AngleRad);
        double phiLessSine = phi < 0.02 ? phi * phi * phi / 6 * (1 - (phi * phi / 20)) : phi - Math.Sin(phi);
        double segment = RadiusMm * RadiusMm / 2 * phiLessSine;
        return (y * HalfMm(y) / 2) - (Math.Sign(RadiusMm) * segment);
    }
}
