namespace Whetwright.Records;

/// <summary>Typed text as it is kept.</summary>
internal static class Trimmed
{
    /// <summary>Without space around; null for nothing.</summary>
    internal static string? Of(string? typed) => string.IsNullOrWhiteSpace(typed) ? null : typed.Trim();
}
