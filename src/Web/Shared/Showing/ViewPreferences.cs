using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Web.Shared.Showing;

/// <summary>How the person wants pages shown. App choices are preferences; a setting is what one dials into a rig.</summary>
public sealed record ViewPreferences
{
    /// <summary>Unit of lengths.</summary>
    public LengthUnit Units { get; init; } = LengthUnit.Millimetre;

    /// <summary>The hand whose thumb does the work.</summary>
    public WorkHand Hand { get; init; } = WorkHand.Right;

    /// <summary>Light, dark, or as the device says.</summary>
    public Theme Theme { get; init; } = Theme.Device;

    /// <summary>Size of text.</summary>
    public TextSize TextSize { get; init; } = TextSize.Normal;

    /// <summary>Name of the culture that says how numbers and dates look; the words stay English.</summary>
    public string CultureName { get; init; } = "en-GB";

    /// <summary>The culture itself.</summary>
    public CultureInfo Culture => CultureInfo.GetCultureInfo(CultureName);
}

/// <summary>The hand whose thumb reaches the buttons.</summary>
public enum WorkHand
{
    /// <summary>Right.</summary>
    Right = 0,

    /// <summary>Left.</summary>
    Left = 1,
}

/// <summary>Light or dark.</summary>
public enum Theme
{
    /// <summary>As the device says.</summary>
    Device = 0,

    /// <summary>Light.</summary>
    Light = 1,

    /// <summary>Dark.</summary>
    Dark = 2,
}

/// <summary>Size of text.</summary>
public enum TextSize
{
    /// <summary>As the browser has it.</summary>
    Normal = 0,

    /// <summary>An eighth larger.</summary>
    Large = 1,

    /// <summary>A quarter larger.</summary>
    Largest = 2,
}

/// <summary>Words for attributes, cookies and forms.</summary>
public static class PreferenceKeys
{
    /// <summary>right, left.</summary>
    public static string Key(this WorkHand hand) => hand == WorkHand.Left ? "left" : "right";

    /// <summary>device, light, dark.</summary>
    public static string Key(this Theme theme) => theme switch { Theme.Light => "light", Theme.Dark => "dark", _ => "device" };

    /// <summary>normal, large, largest.</summary>
    public static string Key(this TextSize size) => size switch { TextSize.Large => "large", TextSize.Largest => "largest", _ => "normal" };

    /// <summary>mm, in.</summary>
    public static string Key(this LengthUnit unit) => unit == LengthUnit.Inch ? "in" : "mm";
}
