using System.Globalization;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>What a check says of a side.</summary>
public enum GotVerdict
{
    /// <summary>Within tolerance, whatever the reading's doubt (k = 2).</summary>
    Within = 0,

    /// <summary>The reading is not sure enough to say.</summary>
    CannotTell = 1,

    /// <summary>Out of tolerance, whatever the reading's doubt (k = 2).</summary>
    Outside = 2,

    /// <summary>This side was not read.</summary>
    NotRead = 3,
}

/// <summary>One side: set against got.</summary>
/// <param name="Blade">Blade side; null where both sides share one number, since nobody noted the tip.</param>
/// <param name="SetDeg">Wanted.</param>
/// <param name="GotDeg">Read after the work.</param>
/// <param name="GotUDeg">Its standard uncertainty.</param>
/// <param name="ToleranceDeg">Tolerance.</param>
public sealed record SetAgainstGot(Side? Blade, double SetDeg, double? GotDeg, double? GotUDeg, double ToleranceDeg)
{
    /// <summary>Coverage factor behind "whatever its doubt".</summary>
    public const double Coverage = 2;

    /// <summary>Got less set.</summary>
    public double? OffDeg => GotDeg - SetDeg;

    /// <summary>
    /// Within where |got − set| + 2u ≤ tolerance, outside where |got − set| − 2u &gt; tolerance, else it cannot be told: the decision rule with guard bands of
    /// JCGM 106:2012 clause 8, k = 2 (from memory). Source: [jcgm106].
    /// </summary>
    public GotVerdict Verdict => OffDeg is not { } off || GotUDeg is not { } u ? GotVerdict.NotRead
        : Math.Abs(off) + (Coverage * u) <= ToleranceDeg ? GotVerdict.Within
        : Math.Abs(off) - (Coverage * u) > ToleranceDeg ? GotVerdict.Outside
        : GotVerdict.CannotTell;

    /// <summary>In words.</summary>
    public string Words => Verdict switch
    {
        GotVerdict.Within => string.Create(CultureInfo.InvariantCulture, $"within ± {ToleranceDeg:0.##}°, the reading's doubt counted in"),
        GotVerdict.Outside => string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(OffDeg!.Value):0.0}° {(OffDeg > 0 ? "too steep" : "too flat")}: out of ± {ToleranceDeg:0.##}°"),
        GotVerdict.CannotTell => string.Create(CultureInfo.InvariantCulture,
            $"{Math.Abs(OffDeg!.Value):0.0}° {(OffDeg > 0 ? "steeper" : "flatter")}; the reading (± {Coverage * GotUDeg:0.0}°) cannot tell whether that is within ± {ToleranceDeg:0.##}°"),
        _ => "not read",
    };

    /// <summary>Both sides, or the one that is ground.</summary>
    public static IReadOnlyList<SetAgainstGot> Of(AngleReference reference, string? hand, AimChosen aim, Reading? check)
    {
        Reading? read = check is { Outcome: not "refused" } ? check : null;
        if (reference == AngleReference.Back)
        {
            Side ground = FoundAngles.GroundSide(hand);
            return [new(ground, ground == Side.Left ? aim.LeftDeg : aim.RightDeg, read?.IncludedDeg, read?.IncludedUDeg, aim.ToleranceDeg)];
        }

        if (read is { LeftDeg: null, RightDeg: null, IncludedDeg: { } included })
            return [new(null, (aim.LeftDeg + aim.RightDeg) / 2, included / 2, read.IncludedUDeg / 2, aim.ToleranceDeg)];
        return
        [
            new(Side.Left, aim.LeftDeg, read?.LeftDeg, read?.LeftUDeg, aim.ToleranceDeg),
            new(Side.Right, aim.RightDeg, read?.RightDeg, read?.RightUDeg, aim.ToleranceDeg),
        ];
    }
}
