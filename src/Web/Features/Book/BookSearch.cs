using Microsoft.AspNetCore.Http;
using Whetwright.Records.History;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Book;

/// <summary>The book's first page.</summary>
/// <param name="Typed">What was typed.</param>
/// <param name="Found">What fits; null where nothing was typed.</param>
public sealed record BookModel(string Typed, BookFound? Found)
{
    /// <summary>How many of each kind are listed.</summary>
    public const int Most = 20;

    /// <summary>Nothing fits.</summary>
    public bool Nothing => Found is { Visit: null, Owners.Count: 0, Pieces.Count: 0 };
}

/// <summary>Finds owners, pieces and visits as somebody types.</summary>
internal static class BookSearch
{
    private const int Longest = 200;

    public static async Task<IResult> ShowAsync(BookQuery book, string? q, CancellationToken cancel)
    {
        string typed = (q ?? "").Trim();
        if (typed.Length > Longest)
            typed = typed[..Longest];
        return Page.Of<BookPage>("Book", new BookModel(typed, typed.Length == 0 ? null : await book.SearchAsync(typed, BookModel.Most, cancel)), Room.Book);
    }
}
