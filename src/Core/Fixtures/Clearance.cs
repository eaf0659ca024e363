using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>What of a pose must stay clear of the abrasive, in the slice square to the edge.</summary>
/// <param name="What"><c>jaw</c>, <c>spine</c>, <c>handle</c> or <c>bar</c>.</param>
/// <param name="BehindMm">How far behind the edge it begins, along the mid-plane.</param>
/// <param name="TowardMm">How far it stands off the mid-plane toward the abrasive.</param>
public sealed record Obstacle(string What, double BehindMm, double TowardMm);

/// <summary>Whether a pose clears.</summary>
/// <param name="What">What touches; null where all clears.</param>
/// <param name="SmallestDeg">Smallest angle at which it would clear.</param>
/// <param name="ExtensionMm">How much further out the edge must stand for the angle wanted; null where it clears or no extension helps.</param>
public sealed record ClearanceVerdict(string? What, double SmallestDeg, double? ExtensionMm)
{
    /// <summary>True where nothing touches.</summary>
    public bool Clears => What is null;

    /// <summary>In words; null where all clears.</summary>
    public Reason? Why(double wantedDeg) => What is null ? null : new("does-not-clear", FormattableString.Invariant(
        $"The {What} would touch the abrasive at {wantedDeg:0.0}°: the smallest angle that clears is {SmallestDeg:0.0}°.") + (ExtensionMm is { } more
            ? FormattableString.Invariant($" Let the blade stand out {more:0.0} mm further, use an extension holder by that much, or grind freehand.")
            : " Grind it freehand."));
}

/// <summary>Clearance of jaw, spine and handle against wheel or stone. Source: circle geometry; derived in docs/conventions.md.</summary>
public static class Clearance
{
    /// <summary>
    /// α_min = atan2(h, d) − asin(√(d² + h²)/(2R)), rad: the angle at which a corner d behind the edge and h toward the wheel just touches it.
    /// It is the law of cosines with the corner on the wheel: d² + h² + 2R(d sin α − h cos α) = 0. NaN where the corner is further than 2R.
    /// </summary>
    public static double SmallestOnWheelRad(double behindMm, double towardMm, double wheelRadiusMm) =>
        Math.Atan2(towardMm, behindMm) - Math.Asin(Math.Sqrt((behindMm * behindMm) + (towardMm * towardMm)) / (2 * wheelRadiusMm));

    /// <summary>α_min = atan2(h, d), rad: on a flat stone, the limit R → ∞.</summary>
    public static double SmallestOnStoneRad(double behindMm, double towardMm) => Math.Atan2(towardMm, behindMm);

    /// <summary>
    /// d = √(R² sin²α − h² + 2Rh cos α) − R sin α, mm: how far behind the edge a corner must begin to clear at α. Zero where it always does; NaN where h is
    /// beyond the wheel. For a stone (null radius): d = h/tan α.
    /// </summary>
    public static double NeededBehindMm(double angleRad, double towardMm, double? wheelRadiusMm)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        if (wheelRadiusMm is not { } radius)
            return Math.Max(0, towardMm * cos / sin);
        return Math.Max(0, Math.Sqrt((radius * radius * sin * sin) - (towardMm * towardMm) + (2 * radius * towardMm * cos)) - (radius * sin));
    }

    /// <summary>The obstacle that needs the largest angle, and whether the angle wanted clears it. A wheel where the radius is given, else a stone.</summary>
    public static ClearanceVerdict Check(double angleRad, IReadOnlyList<Obstacle> obstacles, double? wheelRadiusMm)
    {
        ClearanceVerdict verdict = new(null, 0, null);
        foreach (Obstacle o in obstacles)
        {
            double smallest = wheelRadiusMm is { } radius
                ? SmallestOnWheelRad(o.BehindMm, o.TowardMm, radius)
                : SmallestOnStoneRad(o.BehindMm, o.TowardMm);
            if (double.IsNaN(smallest) || double.RadiansToDegrees(smallest) <= verdict.SmallestDeg)
                continue;
            double more = NeededBehindMm(angleRad, o.TowardMm, wheelRadiusMm) - o.BehindMm;
            bool touches = smallest > angleRad;
            verdict = new(touches ? o.What : null, double.RadiansToDegrees(smallest), touches && o.What == "jaw" && more > 0 ? more : null);
        }

        return verdict;
    }
}
