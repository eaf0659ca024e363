using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Owners;

/// <summary>An owner as a list shows it.</summary>
/// <param name="Id">Key.</param>
/// <param name="Name">Name.</param>
/// <param name="Phone">Telephone.</param>
/// <param name="Email">Mail.</param>
/// <param name="IsAccount">Has a standing account.</param>
/// <param name="Pieces">How many pieces are known.</param>
/// <param name="Here">How many of them are in the shop.</param>
/// <param name="ByTag">The tag that was typed, where that found it.</param>
public sealed record OwnerFound(long Id, string Name, string? Phone, string? Email, bool IsAccount, int Pieces, int Here, int? ByTag = null);

/// <summary>Finds owners as somebody types.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class OwnerQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Owners by any part of name, phone or mail, or by a tag of theirs; a tag that fits comes first, then by name.</summary>
    /// <param name="typed">What was typed; nothing lists by name.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<OwnerFound>> FindAsync(string? typed, int most = 20, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<OwnerFound> found = [];
        if (TagNumber.TryParse(typed, out int tag) || int.TryParse(typed, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out tag))
        {
            found.AddRange((await Shown(db, db.Visits.Where(v => v.Tag == tag).Select(v => v.Piece!.Owner!)).ToListAsync(cancel))
                .Select(o => o with { ByTag = tag }));
        }

        IQueryable<Owner> owners = db.Owners;
        foreach (string word in SearchWords.Of(typed))
            owners = owners.Where(o => o.SearchText.Contains(word));
        found.AddRange(await Shown(db, owners.OrderBy(o => o.Name).ThenBy(o => o.Id).Take(most)).ToListAsync(cancel));
        return [.. found.DistinctBy(o => o.Id).Take(most)];
    }

    /// <summary>One owner, not tracked; null where there is none.</summary>
    public async Task<Owner?> OneAsync(long id, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Owners.AsNoTracking().FirstOrDefaultAsync(o => o.Id == id, cancel);
    }

    private static IQueryable<OwnerFound> Shown(BookContext db, IQueryable<Owner> owners) => owners.Select(o => new OwnerFound(
        o.Id, o.Name, o.Phone, o.Email, o.IsAccount, o.Pieces.Count,
        db.Visits.Count(v => v.HandBackId == null && v.Piece!.OwnerId == o.Id), null));
}
