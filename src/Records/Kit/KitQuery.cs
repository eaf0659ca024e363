using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Shop;

namespace Whetwright.Records.Kit;

/// <summary>A rig with everything that stands of it.</summary>
/// <param name="Rig">The rig with its wheels.</param>
/// <param name="Diameters">All diameter entries of its wheels, corrected ones too.</param>
/// <param name="Stands">All entries of where it stood, corrected ones too.</param>
public sealed record RigWhole(RigKept Rig, IReadOnlyList<DiameterEntry> Diameters, IReadOnlyList<RigStand> Stands)
{
    /// <summary>Corrections applied to it and its wheels, oldest first.</summary>
    public IReadOnlyList<Gauges.CorrectionApplied> Corrections { get; init; } = [];

    /// <summary>Where it stands now; null where nobody said.</summary>
    public RigStand? Now => Stands.Standing().OrderBy(s => s.HappenedAt).ThenBy(s => s.Id).LastOrDefault();

    /// <summary>Today's diameter of a wheel; null where none was measured.</summary>
    public DiameterEntry? Today(long wheelId) =>
        Diameters.Standing().Where(d => d.WheelId == wheelId).OrderBy(d => d.HappenedAt).ThenBy(d => d.Id).LastOrDefault();
}

/// <summary>What of the book is there yet: the first run asks for what is not.</summary>
/// <param name="Named">The shop has a name.</param>
/// <param name="Rigs">Rigs in use.</param>
/// <param name="Owners">Owners.</param>
/// <param name="Visits">Visits.</param>
public sealed record BookBegun(bool Named, int Rigs, int Owners, int Visits)
{
    /// <summary>Nothing to work with: the first run is shown.</summary>
    public bool IsEmpty => !Named && Rigs == 0 && Owners == 0;
}

/// <summary>Reads the kit.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class KitQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>All rigs, those in use first.</summary>
    public async Task<IReadOnlyList<RigWhole>> RigsAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<RigKept> rigs = await db.Rigs.AsNoTracking().Include(r => r.Wheels).OrderBy(r => r.Retired).ThenBy(r => r.Name).ToListAsync(cancel);
        List<DiameterEntry> diameters = await db.Diameters.AsNoTracking().ToListAsync(cancel);
        List<RigStand> stands = await db.RigStands.AsNoTracking().ToListAsync(cancel);
        List<Gauges.CorrectionApplied> corrections = await db.Corrections.AsNoTracking().Standing().OrderBy(c => c.HappenedAt).ThenBy(c => c.Id).ToListAsync(cancel);
        return [.. rigs.Select(r => new RigWhole(r, [.. diameters.Where(d => r.Wheels.Any(w => w.Id == d.WheelId))], [.. stands.Where(s => s.RigId == r.Id)]) { Corrections = [.. corrections.Where(c => c.RigId == r.Id)] })];
    }

    /// <summary>One rig; null where there is none.</summary>
    public async Task<RigWhole?> RigAsync(long id, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (await db.Rigs.AsNoTracking().Include(r => r.Wheels).FirstOrDefaultAsync(r => r.Id == id, cancel) is not { } rig)
            return null;
        long[] wheels = [.. rig.Wheels.Select(w => w.Id)];
        return new(
            rig,
            await db.Diameters.AsNoTracking().Where(d => wheels.Contains(d.WheelId)).OrderBy(d => d.Id).ToListAsync(cancel),
            await db.RigStands.AsNoTracking().Where(s => s.RigId == id).OrderBy(s => s.Id).ToListAsync(cancel))
        {
            Corrections = await db.Corrections.AsNoTracking().Standing().Where(c => c.RigId == id).OrderBy(c => c.HappenedAt).ThenBy(c => c.Id).ToListAsync(cancel),
        };
    }

    /// <summary>The rig of a wheel; null where there is no such wheel.</summary>
    public async Task<RigWhole?> RigOfWheelAsync(long wheelId, CancellationToken cancel = default)
    {
        long? rig;
        await using (BookContext db = await books.CreateDbContextAsync(cancel))
            rig = await db.Wheels.Where(w => w.Id == wheelId).Select(w => (long?)w.RigId).FirstOrDefaultAsync(cancel);
        return rig is { } id ? await RigAsync(id, cancel) : null;
    }

    /// <summary>Abrasives and strops, those in use first, coarse first.</summary>
    public async Task<IReadOnlyList<AbrasiveKept>> AbrasivesAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Abrasives.AsNoTracking().OrderBy(a => a.Retired).ThenBy(a => a.Order).ThenByDescending(a => a.D50Um).ThenBy(a => a.Id).ToListAsync(cancel);
    }

    /// <summary>Every calibration that stands, the newest first; the first of each name is the instrument.</summary>
    public async Task<IReadOnlyList<InstrumentKept>> CalibrationsAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Instruments.AsNoTracking().Standing().OrderByDescending(i => i.HappenedAt).ThenByDescending(i => i.Id).ToListAsync(cancel);
    }

    /// <summary>House rules in their order.</summary>
    public async Task<IReadOnlyList<HouseRule>> RulesAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.HouseRules.AsNoTracking().OrderBy(r => r.Order).ThenBy(r => r.Id).ToListAsync(cancel);
    }

    /// <summary>The price list: everybody's lines first, then the accounts' own.</summary>
    public async Task<IReadOnlyList<PriceLine>> PricesAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Prices.AsNoTracking().OrderBy(p => p.Retired).ThenBy(p => p.OwnerId != null).ThenBy(p => p.OwnerId).ThenBy(p => p.Extra).ThenBy(p => p.Order).ThenBy(p => p.Id).ToListAsync(cancel);
    }

    /// <summary>Tax rates, the newest of each name.</summary>
    public async Task<IReadOnlyList<TaxRate>> TaxRatesAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<TaxRate> rates = await db.TaxRates.AsNoTracking().ToListAsync(cancel);
        return [.. rates.GroupBy(r => r.Name, StringComparer.Ordinal).Select(g => g.OrderBy(r => r.From).ThenBy(r => r.Id).Last()).OrderBy(r => r.Name, StringComparer.Ordinal)];
    }

    /// <summary>Owners with a standing account: key and name.</summary>
    public async Task<IReadOnlyList<(long Id, string Name)>> AccountsAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var accounts = await db.Owners.Where(o => o.IsAccount).OrderBy(o => o.Name).Select(o => new { o.Id, o.Name }).ToListAsync(cancel);
        return [.. accounts.Select(a => (a.Id, a.Name))];
    }

    /// <summary>The shop's card.</summary>
    public async Task<ShopCard> CardAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Shop.AsNoTracking().SingleAsync(cancel);
    }

    /// <summary>Blocks of printed blanks, the newest first, with how many of their tags are entered.</summary>
    public async Task<IReadOnlyList<(TagBlock Block, int Entered)>> BlanksAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var blocks = await db.TagBlocks.AsNoTracking().OrderByDescending(b => b.Id)
            .Select(b => new { Block = b, Entered = db.Visits.Count(v => v.Tag >= b.From && v.Tag <= b.To) }).ToListAsync(cancel);
        return [.. blocks.Select(b => (b.Block, b.Entered))];
    }

    /// <summary>What is there yet.</summary>
    public async Task<BookBegun> BegunAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        string name = await db.Shop.Select(s => s.Name).SingleAsync(cancel);
        return new(name.Length > 0, await db.Rigs.CountAsync(r => !r.Retired, cancel), await db.Owners.CountAsync(cancel), await db.Visits.CountAsync(cancel));
    }
}
