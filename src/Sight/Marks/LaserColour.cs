namespace Whetwright.Sight.Marks;

/// <summary>Colour of the laser, which says in which channel of the photo its light is sought.</summary>
public enum LaserColour
{
    /// <summary>Not told: the channel with the stronger marks is taken.</summary>
    Unknown = 0,

    /// <summary>Red, about 620–690 nm.</summary>
    Red = 1,

    /// <summary>Green, about 510–540 nm.</summary>
    Green = 2,
}

/// <summary>Shape of the beam, which says how marks stretch along the edge.</summary>
public enum BeamKind
{
    /// <summary>Not told: judged from the height of the inner marks.</summary>
    Unknown = 0,

    /// <summary>A round dot.</summary>
    Dot = 1,

    /// <summary>A line along the edge.</summary>
    Line = 2,
}
