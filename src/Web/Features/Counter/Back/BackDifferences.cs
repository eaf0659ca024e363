using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Back;

/// <summary>What two devices made of one hand-back: per piece and for the money, what stands in the book now and what this person had before them.</summary>
internal static class BackDifferences
{
    /// <summary>The differences.</summary>
    /// <param name="db">The book as it stands.</param>
    /// <param name="mine">The form as it was sent; its <see cref="WebForm.VersionSeen"/> tells what the person saw.</param>
    /// <param name="now">The form over what stands now.</param>
    /// <param name="units">How numbers are shown.</param>
    /// <param name="cancel">Stops it.</param>
    public static async Task<IReadOnlyList<FormDifference>> BetweenAsync(BookContext db, BackForm mine, BackForm now, UnitsView units, CancellationToken cancel)
    {
        (long charge, long payment, long handBack) = Seen(mine.VersionSeen);
        long owner = mine.Ground.Owner.Id;
        List<FormDifference> differences = [];
        foreach (var gone in await db.HandBacks.AsNoTracking().Standing().Where(h => h.Id > handBack && h.Visit!.Piece!.OwnerId == owner && h.Visit.HandBackId == h.Id).OrderBy(h => h.Id)
            .Select(h => new { h.HappenedAt, h.To, h.Visit!.Tag, h.Visit.Piece!.Name }).ToListAsync(cancel))
            differences.Add(new($"{TagNumber.Format(gone.Tag)} {gone.Name}", $"handed back {units.Moment(gone.HappenedAt)}{(gone.To is { } to ? $" to {to}" : "")}", "still here"));
        var charges = await db.Charges.AsNoTracking().Where(c => c.Visit!.Piece!.OwnerId == owner && c.Visit.HandBackId == null).OrderBy(c => c.Id).ToListAsync(cancel);
        foreach (BackFields piece in now.Pieces)
        {
            Charge[] all = [.. charges.Where(c => c.VisitId == piece.Here.Visit.Id)], before = [.. all.Where(c => c.Id <= charge)];
            if (before.Length != all.Length)
                differences.Add(new($"Charges on {piece.Here.Tag} {piece.Here.Visit.Piece!.Name}", Words(Standing(all), units), Words([.. Standing(before), .. Added(mine, piece)], units)));
        }

        foreach (Payment paid in await db.Payments.AsNoTracking().Standing().Where(p => p.OwnerId == owner && p.Id > payment).OrderBy(p => p.Id).ToListAsync(cancel))
            differences.Add(new("Payment", $"{units.Amount(paid.AmountMinor)}, {paid.How}, {units.Moment(paid.HappenedAt)}", ""));
        differences.Add(new("Due for what is ticked and still here", units.Amount(now.Due.Minor), mine.Amount.Minor is { } amount ? $"{units.Amount(amount)} received" : "all that is due"));
        return differences;
    }

    /// <summary>Charges of a list that are neither corrected nor withdrawn within it.</summary>
    private static IEnumerable<(string Text, long AmountMinor)> Standing(Charge[] charges)
    {
        HashSet<long> corrected = [.. charges.Select(c => c.CorrectsId).OfType<long>()];
        return charges.Where(c => !c.Withdrawn && !corrected.Contains(c.Id)).Select(c => (c.Text, c.AmountMinor));
    }

    private static IEnumerable<(string Text, long AmountMinor)> Added(BackForm mine, BackFields piece) =>
        mine.Pieces.Where(p => p.Here.Visit.Id == piece.Here.Visit.Id).SelectMany(p => p.Added([], default)).Select(c => (c.Text ?? "", c.AmountMinor));

    private static string Words(IEnumerable<(string Text, long AmountMinor)> charges, UnitsView units) => string.Join(", ", charges.Select(c => $"{c.Text} {units.Amount(c.AmountMinor)}"));

    private static (long Charge, long Payment, long HandBack) Seen(string version)
    {
        long[] parts = [.. version.Split('-').Select(p => long.TryParse(p, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : 0)];
        return parts is [var charge, var payment, var handBack] ? (charge, payment, handBack) : (0, 0, 0);
    }
}
