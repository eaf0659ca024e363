namespace Whetwright.Formats.Reading;

/// <summary>What came of reading a file.</summary>
/// <typeparam name="T">What the file holds.</typeparam>
public abstract record FormatOutcome<T>
{
    private FormatOutcome()
    {
    }

    /// <summary>Read without a fault.</summary>
    /// <param name="Value">What the file holds.</param>
    public sealed record Read(T Value) : FormatOutcome<T>;

    /// <summary>Refused: all faults that were found, in the order of the file. Never empty.</summary>
    /// <param name="Errors">The faults.</param>
    public sealed record Refused(IReadOnlyList<FormatError> Errors) : FormatOutcome<T>;
}
