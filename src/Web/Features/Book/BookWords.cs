using Whetwright.Core.Blades;
using Whetwright.Records.Photos;

namespace Whetwright.Web.Features.Book;

/// <summary>Words of the book's pages.</summary>
internal static class BookWords
{
    /// <summary>A kind as people say it.</summary>
    public static string Kind(PieceKind kind) => kind switch
    {
        PieceKind.DoubleBevel => "double-bevel knife",
        PieceKind.SingleBevel => "single-bevel knife",
        PieceKind.Convex => "convex edge",
        PieceKind.Serrated => "serrated edge",
        PieceKind.Scissors => "scissors",
        PieceKind.Chisel => "chisel",
        _ => "plane iron",
    };

    /// <summary>What a photo shows.</summary>
    public static string Subject(PhotoSubject subject) => subject switch
    {
        PhotoSubject.Piece => "the piece",
        PhotoSubject.Damage => "damage at intake",
        PhotoSubject.Marks => "marks of the laser",
        PhotoSubject.Outline => "the blade on the mat",
        _ => "the edge after the work",
    };

    /// <summary>"1 piece", "3 pieces".</summary>
    public static string Count(int count, string one, string? many = null) =>
        count == 1 ? "1 " + one : string.Create(System.Globalization.CultureInfo.CurrentCulture, $"{count} {many ?? one + "s"}");
}
