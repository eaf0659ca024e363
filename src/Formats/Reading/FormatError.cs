namespace Whetwright.Formats.Reading;

/// <summary>One thing that is wrong with a file.</summary>
/// <param name="Path">Where, as a JSON path: <c>$.wheels[1].diameterMm</c>.</param>
/// <param name="Value">What stands there, as written; empty where nothing does.</param>
/// <param name="Text">What is wrong and what would be right.</param>
public sealed record FormatError(string Path, string Value, string Text)
{
    /// <summary>In one line: path, value, and what would be right.</summary>
    public override string ToString() => Value.Length == 0 ? $"{Path}: {Text}" : $"{Path} is {Value}: {Text}";
}
