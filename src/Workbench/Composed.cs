using Whetwright.Formats.Reading;

namespace Whetwright.Workbench;

/// <summary>Something put together from the book's rows, or what keeps it from being.</summary>
/// <typeparam name="T">What Core works on.</typeparam>
public abstract record Composed<T>
{
    private Composed()
    {
    }

    /// <summary>Ready.</summary>
    /// <param name="Value">For Core.</param>
    /// <param name="Json">The same as a document in our format: what is stored with a result, and what the command line reads.</param>
    /// <param name="Defaults">What nobody measured and a stated default stands in for: field and value in words.</param>
    public sealed record Ready(T Value, string Json, IReadOnlyList<string> Defaults) : Composed<T>;

    /// <summary>Not yet: each text names the field and what would be right.</summary>
    /// <param name="Missing">What is missing or wrong.</param>
    public sealed record NotYet(IReadOnlyList<string> Missing) : Composed<T>;

    internal static Composed<T> From(FormatOutcome<T> outcome, string json, IReadOnlyList<string> defaults) => outcome switch
    {
        FormatOutcome<T>.Read read => new Ready(read.Value, json, defaults),
        FormatOutcome<T>.Refused refused => new NotYet([.. refused.Errors.Select(e => e.ToString()!)]),
        _ => throw new InvalidOperationException("Not a member of the closed set."),
    };
}
