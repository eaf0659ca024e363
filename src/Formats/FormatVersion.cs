namespace Whetwright.Formats;

/// <summary>The version of our file formats.</summary>
public static class FormatVersion
{
    /// <summary>Written into every result; a file that names another one is refused.</summary>
    public const int Current = 1;
}
