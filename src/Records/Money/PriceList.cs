using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;

namespace Whetwright.Records.Money;

/// <summary>What the list asks for a piece.</summary>
/// <param name="Line">The line that fits; null where none does.</param>
/// <param name="Extras">Extras that can be added to it.</param>
public sealed record PriceFound(PriceLine? Line, IReadOnlyList<PriceLine> Extras);

/// <summary>Finds prices in the shop's own list.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class PriceList(IDbContextFactory<BookContext> books)
{
    /// <summary>The price for a piece of this kind and length, of this owner.</summary>
    public async Task<PriceFound> ForAsync(PieceKind kind, double? lengthMm, long? ownerId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<PriceLine> lines = await db.Prices.AsNoTracking().Where(p => !p.Retired && (p.OwnerId == null || p.OwnerId == ownerId)).ToListAsync(cancel);
        return new PriceFound(Choose(lines, kind, lengthMm, ownerId), Extras(lines, kind, lengthMm, ownerId));
    }

    /// <summary>
    /// The line that fits best: an account's own before everybody's, one for the kind before one for all, one with bounds of length before
    /// one without, then by the list's order. A line with bounds does not fit a piece whose length nobody knows.
    /// </summary>
    public static PriceLine? Choose(IEnumerable<PriceLine> lines, PieceKind kind, double? lengthMm, long? ownerId) => lines
        .Where(l => !l.Extra && Fits(l, kind, lengthMm, ownerId))
        .OrderByDescending(l => l.OwnerId is not null)
        .ThenByDescending(l => l.Kind is not null)
        .ThenByDescending(l => l.FromLengthMm is not null || l.ToLengthMm is not null)
        .ThenBy(l => l.Order).ThenBy(l => l.Id)
        .FirstOrDefault();

    /// <summary>Extras that fit; of two with the same name the account's own.</summary>
    public static IReadOnlyList<PriceLine> Extras(IEnumerable<PriceLine> lines, PieceKind kind, double? lengthMm, long? ownerId) =>
    [
        .. lines.Where(l => l.Extra && Fits(l, kind, lengthMm, ownerId))
            .OrderByDescending(l => l.OwnerId is not null).ThenBy(l => l.Order).ThenBy(l => l.Id)
            .DistinctBy(l => l.Name, StringComparer.OrdinalIgnoreCase).OrderBy(l => l.Order).ThenBy(l => l.Id),
    ];

    /// <summary>The tax rate of a line on a day, thousandths of a percent: of the rates with the same name the latest that has begun; 0 for none.</summary>
    public static int TaxOn(DateOnly day, long? taxRateId, IReadOnlyCollection<TaxRate> rates)
    {
        string? name = rates.FirstOrDefault(r => r.Id == taxRateId)?.Name;
        return rates.Where(r => r.Name == name && r.From <= day).OrderBy(r => r.From).ThenBy(r => r.Id).LastOrDefault()?.MilliPercent ?? 0;
    }

    private static bool Fits(PriceLine line, PieceKind kind, double? lengthMm, long? ownerId) =>
        !line.Retired && (line.OwnerId is null || line.OwnerId == ownerId) && (line.Kind is null || line.Kind == kind)
        && (line.FromLengthMm is null || lengthMm >= line.FromLengthMm) && (line.ToLengthMm is null || lengthMm < line.ToLengthMm);
}
