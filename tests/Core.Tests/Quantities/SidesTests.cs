using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Quantities;

/// <summary>The one rule that ties blade sides to target sides (docs/conventions.md).</summary>
public sealed class SidesTests
{
    [Theory]
    [InlineData(Side.Left, TipDirection.Up, Side.Right)]
    [InlineData(Side.Right, TipDirection.Up, Side.Left)]
    [InlineData(Side.Left, TipDirection.Down, Side.Left)]
    [InlineData(Side.Right, TipDirection.Down, Side.Right)]
    public void With_the_tip_up_the_blades_left_throws_its_light_to_the_targets_right(Side target, TipDirection tip, Side blade)
    {
        Assert.Equal(blade, Sides.BladeSide(target, tip));
        Assert.Equal(target, Sides.TargetSide(blade, tip));
    }
}
