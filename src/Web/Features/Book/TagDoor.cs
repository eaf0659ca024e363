using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Book;

/// <summary>Where a tag's QR code leads: to the bench while the piece is here, to its history when it is gone.</summary>
internal static class TagDoor
{
    public static async Task<IResult> OpenAsync(string tag, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        if (!TagNumber.TryParse(tag, out int number))
            return Page.NotFound($"“{tag}” is no tag number: its check digit does not fit, so a digit was misread. A tag reads like {TagNumber.Format(1047)}.");
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var visit = await db.Visits.Where(v => v.Tag == number).OrderBy(v => v.HandBackId != null).ThenByDescending(v => v.HappenedAt)
            .Select(v => new { v.PieceId, Here = v.HandBackId == null }).FirstOrDefaultAsync(cancel);
        return visit is null
            ? Page.NotFound($"No piece ever hung under tag {TagNumber.Format(number)}. A blank that is not entered yet is taken in at the counter.")
            : Results.Redirect(visit.Here ? $"/bench/{TagNumber.Format(number)}" : FormattableString.Invariant($"/book/pieces/{visit.PieceId}"));
    }
}
