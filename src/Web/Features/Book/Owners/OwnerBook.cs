using Microsoft.AspNetCore.Http;
using Whetwright.Records.History;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Book.Owners;

/// <summary>An owner's page.</summary>
/// <param name="History">Everything that ever came.</param>
/// <param name="Visits">The visits of this page of the list.</param>
/// <param name="Number">Number of the page, from 1.</param>
/// <param name="Pages">How many pages.</param>
public sealed record OwnerModel(OwnerHistory History, IReadOnlyList<VisitLine> Visits, int Number, int Pages)
{
    /// <summary>Visits on one page.</summary>
    public const int PerPage = 40;
}

/// <summary>Shows an owner.</summary>
internal static class OwnerBook
{
    public static async Task<IResult> ShowAsync(long id, int? page, BookQuery book, CancellationToken cancel)
    {
        if (await book.OwnerAsync(id, cancel) is not { } history)
            return None(id);
        int pages = Math.Max(1, (history.Visits.Count + OwnerModel.PerPage - 1) / OwnerModel.PerPage);
        int number = Math.Clamp(page ?? 1, 1, pages);
        return Page.Of<OwnerPage>(
            history.Owner.Name, new OwnerModel(history, [.. history.Visits.Skip((number - 1) * OwnerModel.PerPage).Take(OwnerModel.PerPage)], number, pages), Room.Book);
    }

    internal static IResult None(long id) => Page.NotFound(FormattableString.Invariant($"There is no owner {id} in the book."));
}
