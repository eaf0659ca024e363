using Whetwright.Core.Blades;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit;

/// <summary>Words that rules and prices share.</summary>
internal static class KitWords
{
    /// <summary>Kinds of piece to choose from.</summary>
    public static IReadOnlyList<Choice> Kinds { get; } = [.. PieceKinds.All.Select(k => new Choice(k.Key(), Kind(k)))];

    /// <summary>A kind with a capital.</summary>
    public static string Kind(PieceKind? kind) => kind is not { } k ? "Every kind" : char.ToUpperInvariant(BenchWords.Kind(k)[0]) + BenchWords.Kind(k)[1..];

    /// <summary>Bounds of length in words.</summary>
    public static string Lengths(double? fromMm, double? toMm, UnitsView units) => (fromMm, toMm) switch
    {
        ({ } from, { } to) => $"{units.Length(from, 0)} to {units.Length(to, 0)}",
        ({ } from, null) => $"from {units.Length(from, 0)}",
        (null, { } to) => $"to {units.Length(to, 0)}",
        _ => "any",
    };
}
