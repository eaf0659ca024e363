using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// Posts that carry the bar slide along their own line, which passes the wheel's axis at the across-distance x₀; so the travel to dial is not the change of D.
/// </summary>
/// <param name="AcrossMm">x₀: distance from the wheel's axis to the line on which the bar's centre slides, square to it; zero where the posts point at the axis.</param>
/// <param name="DirectionDeg">Where the posts point as the bar moves out, 0 level away from the worker, 90 up; for drawings, it does not change the travel.</param>
/// <param name="PitchMm">Travel per turn of the adjusting thread; null where there is none.</param>
public sealed record BarSlide(double AcrossMm, double DirectionDeg = 90, double? PitchMm = null)
{
    /// <summary>Position on the line from the point nearest the axis, mm: y = √(D² − x₀²), the outer of the two. NaN where D &lt; |x₀|.</summary>
    public double PositionMm(double barCentreToAxisMm) =>
        Math.Sqrt((barCentreToAxisMm * barCentreToAxisMm) - (AcrossMm * AcrossMm));

    /// <summary>D = √(x₀² + y²), mm: the inverse.</summary>
    public double CentreDistanceMm(double positionMm) => Math.Sqrt((AcrossMm * AcrossMm) + (positionMm * positionMm));

    /// <summary>
    /// Travel, mm, positive out: √(D₁² − x₀²) − √(D₀² − x₀²), in the form (D₁² − D₀²)/(y₁ + y₀) that keeps its digits. NaN where either is out of reach.
    /// </summary>
    public double TravelMm(double fromMm, double toMm)
    {
        double sum = PositionMm(fromMm) + PositionMm(toMm);
        return sum > 0 ? (toMm - fromMm) * (toMm + fromMm) / sum : (sum == 0 ? 0 : double.NaN);
    }

    /// <summary>travel ≈ ΔD·D/√(D² − x₀²), mm: first order, a check on <see cref="TravelMm"/>.</summary>
    public double FirstOrderTravelMm(double fromMm, double toMm) => (toMm - fromMm) * fromMm / PositionMm(fromMm);

    /// <summary>Turns of the thread; null where the pitch is not known.</summary>
    public double? Turns(double travelMm) => PitchMm is { } pitch ? travelMm / pitch : null;

    /// <summary>Why the bar cannot stand there; null where it can.</summary>
    public Reason? OutOfReach(double barCentreToAxisMm) => barCentreToAxisMm >= Math.Abs(AcrossMm)
        ? null
        : new("slide-out-of-reach", string.Create(
            CultureInfo.InvariantCulture,
            $"The bar would have to stand {barCentreToAxisMm:0.00} mm from the axis, but its posts pass the axis at {Math.Abs(AcrossMm):0.00} mm. Clamp the blade further out, or move the posts nearer."));

    /// <summary>Bar's far side to the wheel's near surface, mm: D + r_b − R, on the line through both centres. What a calliper takes over bar and wheel.</summary>
    public static double FarSideToWheelMm(double barCentreToAxisMm, double barRadiusMm, double wheelRadiusMm) =>
        barCentreToAxisMm + barRadiusMm - wheelRadiusMm;

    /// <summary>D from the calliper's reading: the inverse.</summary>
    public static double CentreDistanceFromFarSideMm(double farSideToWheelMm, double barRadiusMm, double wheelRadiusMm) =>
        farSideToWheelMm - barRadiusMm + wheelRadiusMm;

    /// <summary>Derivation of the travel.</summary>
    public Derivation Explain(double fromMm, double toMm) => new(
        "bar travel", TravelMm(fromMm, toMm), "mm", "travel = √(D₁² − x₀²) − √(D₀² − x₀²)", "derived in docs/conventions.md",
        [
            new("D₁", "bar centre to wheel axis, wanted", toMm, "mm", toMm / PositionMm(toMm)),
            new("D₀", "bar centre to wheel axis, now", fromMm, "mm", -fromMm / PositionMm(fromMm)),
            new("x₀", "across-distance", AcrossMm, "mm", (AcrossMm / PositionMm(fromMm)) - (AcrossMm / PositionMm(toMm))),
        ],
        "fixtures.bar-slide/1");
}
