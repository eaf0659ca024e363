namespace Whetwright.Core.Quantities;

/// <summary>A side, of a blade or of a target; which of the two is said by the name of what holds it. See docs/conventions.md.</summary>
public enum Side
{
    /// <summary>Left.</summary>
    Left = 0,

    /// <summary>Right.</summary>
    Right = 1,
}

/// <summary>Where the tip of the blade was while it stood in the beam.</summary>
public enum TipDirection
{
    /// <summary>Tip up: the blade's left side throws its light to the target's right.</summary>
    Up = 0,

    /// <summary>Tip down: the blade's left side throws its light to the target's left.</summary>
    Down = 1,
}

/// <summary>What the two kinds of side have to do with each other.</summary>
public static class Sides
{
    /// <summary>The other side.</summary>
    public static Side Other(this Side side) => side == Side.Left ? Side.Right : Side.Left;

    /// <summary>The blade side that throws its light to the given side of the target (docs/conventions.md).</summary>
    public static Side BladeSide(Side targetSide, TipDirection tip) => tip == TipDirection.Down ? targetSide : targetSide.Other();

    /// <summary>The target side on which the light of the given blade side falls (docs/conventions.md).</summary>
    public static Side TargetSide(Side bladeSide, TipDirection tip) => tip == TipDirection.Down ? bladeSide : bladeSide.Other();
}
