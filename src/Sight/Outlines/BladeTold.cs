using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Sight.Outlines;

/// <summary>How the blade lies and how thick it is, as far as a person told it or another photo showed it.</summary>
/// <param name="EdgeToward">The side of the mat that the edge points to; null: it is judged.</param>
/// <param name="HeelToward">The side of the mat toward which the heel lies, seen from the tip; null: it is judged.</param>
/// <param name="Spine">Thickness of the spine at the heel; null: not told. A blade on its flank floats on half of it, and any blade's tip on less.</param>
/// <param name="OnFlank">That the blade lies flat on its flank, a tang or thin handle with it; false: a handle lifts it; null: judged by whether a handle or tang is seen.</param>
public readonly record struct BladeTold(MatSide? EdgeToward = null, MatSide? HeelToward = null, Length? Spine = null, bool? OnFlank = null)
{
    /// <summary>What a told height of an edge may be above half the spine on a blade that lies on its flank. Chosen: both are told to a tenth or two.</summary>
    private static readonly Length s_slack = Length.FromMillimetres(0.25);

    /// <summary>The greatest height that the edge of a blade on its flank can float at: half its spine, and what both are told to.</summary>
    /// <param name="spine">Thickness of the spine.</param>
    public static Length MostOnFlank(Length spine) => Length.FromMillimetres((spine.Millimetres / 2) + s_slack.Millimetres);

    /// <summary>The side of the mat that a direction points to most.</summary>
    internal static MatSide Facing(Vector2 direction) => Math.Abs(direction.X) > Math.Abs(direction.Y)
        ? (direction.X > 0 ? MatSide.Right : MatSide.Left)
        : direction.Y > 0 ? MatSide.Bottom : MatSide.Top;
}
