using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Visits;

/// <summary>From reading and wish to the angles of each side.</summary>
internal static class VisitAngles
{
    /// <summary>Found angles per blade side; null where either is not known. A back has 0, its other side the included angle.</summary>
    public static SidePair? Old(Blade blade, CombinedReading? reading)
    {
        if (reading is null || reading.Outcome == ReadingOutcome.Refused)
            return null;
        if (blade.Reference == AngleReference.Back)
        {
            return reading.Included is { } included
                ? OneSided(blade, included.Value.Degrees)
                : null;
        }

        double? left = Edge(Side.Left), right = Edge(Side.Right);
        if (left is { } l && right is { } r)
            return new(l, r);
        // Without the tip noted the sides have no names; the mean of both is still known.
        return reading.Included is { } sum ? new(sum.Value.Degrees / 2, sum.Value.Degrees / 2) : null;

        double? Edge(Side side) => reading.Sides.FirstOrDefault(s => s.Blade == side)?.Edge?.Value.Degrees;
    }

    /// <summary>Wanted angles per blade side: the wish, or the found ones kept.</summary>
    public static SidePair? Wanted(Blade blade, SidePair? old, VisitWish wish)
    {
        if (wish.Angle is not { } angle)
            return old;
        return blade.Kind.GroundSides() == 1 && blade.Reference == AngleReference.Back
            ? OneSided(blade, angle.Degrees)
            : new(angle.Degrees, angle.Degrees);
    }

    /// <summary>What the rig is asked for: nothing on a back.</summary>
    public static SettingWish ForRig(Blade blade, SidePair wanted, VisitWish wish) => new()
    {
        Left = Ask(blade, wanted, Side.Left),
        Right = Ask(blade, wanted, Side.Right),
        Tolerance = wish.Tolerance,
        ScoreMm = wish.ScoreMm,
    };

    /// <summary>The side that is the back; null for pieces with a mid-plane.</summary>
    public static Side? BackOf(Blade blade) => blade.Reference == AngleReference.Back ? (blade.Hand ?? Side.Right).Other() : null;

    private static Angle? Ask(Blade blade, SidePair wanted, Side side) =>
        BackOf(blade) == side || !(wanted[side] > 0) ? null : Angle.FromDegrees(wanted[side]);

    private static SidePair OneSided(Blade blade, double degrees) =>
        BackOf(blade) == Side.Left ? new(0, degrees) : new(degrees, 0);
}
