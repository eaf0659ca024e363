namespace Whetwright.Core.Targets;

/// <summary>A side of a printed sheet, its print read upright.</summary>
public enum MatSide
{
    /// <summary>Away from the reader.</summary>
    Top,

    /// <summary>Toward the reader.</summary>
    Bottom,

    /// <summary>On the reader's left.</summary>
    Left,

    /// <summary>On the reader's right.</summary>
    Right,
}
