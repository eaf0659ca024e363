using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>The angles of a stored reading, per blade side, as choosing and checking need them.</summary>
public static class FoundAngles
{
    /// <summary>
    /// Per side from the mid-plane; from the back for a piece with one (0 on the back). Without the tip noted the sides have no names, and both get
    /// the mean of the two. Null where the reading does not tell both.
    /// </summary>
    public static SidePair? Of(AngleReference reference, string? hand, Reading? reading)
    {
        if (reading is null || reading.Outcome == "refused")
            return null;
        if (reference == AngleReference.Back)
            return reading.IncludedDeg is { } included ? OnGroundSide(hand, included) : null;
        if (reading.LeftDeg is { } left && reading.RightDeg is { } right)
            return new(left, right);
        return reading.IncludedDeg is { } sum ? new(sum / 2, sum / 2) : null;
    }

    /// <summary>The side of a piece with a back that is ground: the right for a right hand.</summary>
    public static Side GroundSide(string? hand) => hand == "left" ? Side.Left : Side.Right;

    /// <summary>An angle on the ground side, 0 on the back.</summary>
    public static SidePair OnGroundSide(string? hand, double deg) => GroundSide(hand) == Side.Right ? new(0, deg) : new(deg, 0);
}
