namespace Whetwright.Core.Sections;

/// <summary>How a stage of grinding or finishing treats heat.</summary>
public enum StageMedium
{
    /// <summary>Slow wheel running in water.</summary>
    WetWheel = 0,

    /// <summary>Fast dry wheel.</summary>
    DryWheel = 1,

    /// <summary>Dry belt.</summary>
    DryBelt = 2,

    /// <summary>Belt with mist or drip.</summary>
    WetBelt = 3,

    /// <summary>Stone by hand.</summary>
    BenchStone = 4,

    /// <summary>Strop or felt by hand or slow wheel.</summary>
    Strop = 5,

    /// <summary>Fast buff or felt wheel.</summary>
    Buff = 6,
}

/// <summary>
/// What to do about heat in a stage. Dry wheels, belts and fast buffs draw temper at the apex before the hand feels it (common practice,
/// no source); a blued edge is soft to the depth of the colour at least, and that depth enters the recession.
/// </summary>
/// <param name="NeedsCooling">True where the stage can draw temper.</param>
/// <param name="Text">What to do.</param>
public sealed record HeatCare(bool NeedsCooling, string Text)
{
    /// <summary>The care for a medium.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a known medium.</exception>
    public static HeatCare For(StageMedium medium) => medium switch
    {
        StageMedium.WetWheel => new(false, "Keep water on the stone at the edge; no colour should ever show."),
        StageMedium.WetBelt => new(false, "Keep the mist on the edge; stop if the water boils off or any colour shows."),
        StageMedium.DryWheel => new(true, "Dip in water before every pass, bare fingers near the edge, light and moving; wait until it is cold. Look for straw or blue at the apex after each pass: blue is soft, grind past it."),
        StageMedium.DryBelt => new(true, "Slow and light, edge cold before every pass (dip, then wipe); the tip heats first. Look for straw or blue after each pass: blue is soft, grind past it."),
        StageMedium.Buff => new(true, "A touch at a time, edge trailing; feel between touches. A warm apex loses its bite before any colour shows."),
        StageMedium.BenchStone => new(false, "No cooling needed by hand."),
        StageMedium.Strop => new(false, "No cooling needed at this speed; edge trailing."),
        _ => throw new ArgumentOutOfRangeException(nameof(medium), medium, "Must be one of the known media."),
    };
}
