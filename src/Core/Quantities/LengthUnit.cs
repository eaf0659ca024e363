namespace Whetwright.Core.Quantities;

/// <summary>The unit in which lengths are shown, or in which a typed length without a unit is meant.</summary>
public enum LengthUnit
{
    /// <summary>Millimetres, the trade's unit and that of all files.</summary>
    Millimetre = 0,

    /// <summary>Inches of 25.4 mm.</summary>
    Inch = 1,
}
