using System.Globalization;

namespace Whetwright.Web.Shared.Showing;

/// <summary>A count with its noun: one piece, 2 pieces.</summary>
public static class Counted
{
    /// <summary>The words.</summary>
    /// <param name="count">How many.</param>
    /// <param name="one">The noun for one.</param>
    /// <param name="many">The noun for several; with an s where not given.</param>
    public static string Of(long count, string one, string? many = null) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many ?? one + "s")}");
}
