using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Shop;

/// <summary>Gives out tag numbers: each once, none that is set aside on paper.</summary>
/// <param name="clock">The time.</param>
public sealed class TagNumbers(BookClock clock)
{
    /// <summary>Numbers with a check digit still fit ten digits on a tag; far beyond any shop. Chosen, not derived.</summary>
    public const int Largest = 99_999_999;

    /// <summary>The next numbers. Part of a transaction: two at once wait for each other and never get the same.</summary>
    public async Task<IReadOnlyList<int>> TakeAsync(BookContext db, int count, CancellationToken cancel = default)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        int next = await LockedNextAsync(db, cancel);
        List<TagBlock> blocks = await db.TagBlocks.AsNoTracking().Where(b => b.To >= next).OrderBy(b => b.From).ToListAsync(cancel);
        List<int> taken = [];
        while (taken.Count < count)
        {
            TagBlock? block = blocks.Find(b => b.From <= next && next <= b.To);
            if (block is not null)
                next = block.To + 1;
            else if (await db.Visits.AnyAsync(v => v.Tag == next, cancel))
                next++;
            else
                taken.Add(next++);
        }

        if (next > Largest + 1)
            throw new InvalidOperationException($"The tag numbers are used up at {next}.");
        await db.Shop.ExecuteUpdateAsync(set => set.SetProperty(s => s.NextTag, next), cancel);
        return taken;
    }

    /// <summary>Sets numbers aside for printed blanks.</summary>
    public async Task<SaveOutcome<TagBlock>> SetAsideAsync(BookContext db, int count, CancellationToken cancel = default)
    {
        if (count is < 1 or > 1000)
            return new SaveOutcome<TagBlock>.Refused("Count", count.ToString(CultureInfo.InvariantCulture), "1 to 1000 tags would be right");
        int from = await LockedNextAsync(db, cancel);
        while (true)
        {
            int? taken = await db.TagBlocks.Where(b => b.From < from + count && b.To >= from).MaxAsync(b => (int?)b.To, cancel)
                ?? await db.Visits.Where(v => v.Tag >= from && v.Tag < from + count).MaxAsync(v => (int?)v.Tag, cancel);
            if (taken is null)
                break;
            from = taken.Value + 1;
        }

        TagBlock block = new() { From = from, To = from + count - 1, EnteredAt = clock.Now() };
        db.TagBlocks.Add(block);
        await db.SaveChangesAsync(cancel);
        await db.Shop.ExecuteUpdateAsync(set => set.SetProperty(s => s.NextTag, s => s.NextTag == from ? from + count : s.NextTag), cancel);
        return new SaveOutcome<TagBlock>.Saved(block);
    }

    /// <summary>Null where this number from a printed blank may be used now; else what is wrong with it.</summary>
    public async Task<string?> WhyNotAsync(BookContext db, int tag, CancellationToken cancel = default) =>
        await db.Visits.AnyAsync(v => v.Tag == tag, cancel) ? "a tag that is not used yet would be right"
        : await db.TagBlocks.AnyAsync(b => b.From <= tag && tag <= b.To, cancel) ? null
        : "a number from a printed block of blanks would be right; others are given out by the book";

    /// <summary>Touches the card first, so that a server holds the row until the commit.</summary>
    private static async Task<int> LockedNextAsync(BookContext db, CancellationToken cancel)
    {
        if (await db.Shop.ExecuteUpdateAsync(set => set.SetProperty(s => s.NextTag, s => s.NextTag), cancel) != 1)
            throw new InvalidOperationException("The book has no card of the shop: it was not opened.");
        return await db.Shop.AsNoTracking().Select(s => s.NextTag).SingleAsync(cancel);
    }
}
