using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Pieces;

/// <summary>A set of alike pieces, made in one go: a slot each.</summary>
public sealed record SetForm
{
    /// <summary>Whose.</summary>
    public long OwnerId { get; init; }

    /// <summary>Name: "line knives".</summary>
    public string? Name { get; init; }

    /// <summary>How many slots.</summary>
    public int Count { get; init; }

    /// <summary>Kind of each.</summary>
    public PieceKind Kind { get; init; }

    /// <summary>Length of each, mm.</summary>
    public double? LengthMm { get; init; }

    /// <summary>What each is called; the set's name where empty.</summary>
    public string? PieceName { get; init; }
}

/// <summary>A count of a set.</summary>
/// <param name="SetId">The set.</param>
/// <param name="In">Coming in; else going out.</param>
/// <param name="Counted">Slots that are there.</param>
/// <param name="Expected">Slots that should be.</param>
/// <param name="Strangers">Pieces that belong to no slot.</param>
/// <param name="Moment">Moment of entry of the write it belongs to, UTC: facts of one write carry one moment and are found by it; null for a count by itself.</param>
public sealed record CountForm(long SetId, bool In, IReadOnlyCollection<string> Counted, IReadOnlyCollection<string> Expected, int Strangers = 0, DateTime? Moment = null);

/// <summary>Makes sets, counts them, lends loan sets.</summary>
public sealed class SetDesk(BookClock clock, PieceDesk pieces)
{
    /// <summary>Most slots of a set.</summary>
    public const int MostSlots = 300;

    /// <summary>Makes a set with its pieces, numbered from 1.</summary>
    public async Task<SaveOutcome<PieceSet>> MakeAsync(BookContext db, SetForm form, CancellationToken cancel = default)
    {
        FormCheck check = new();
        check.Text(nameof(form.Name), form.Name, "a name for the set would be right")
            .That(form.Count is >= 1 and <= MostSlots, nameof(form.Count), form.Count, $"1 to {MostSlots} pieces would be right");
        if (!check.Passed)
            return new SaveOutcome<PieceSet>.Refused(check.Problems);
        if (!await db.Owners.AnyAsync(o => o.Id == form.OwnerId, cancel))
            return new SaveOutcome<PieceSet>.Refused(nameof(form.OwnerId), form.OwnerId.ToString(CultureInfo.InvariantCulture), "an owner in the book would be right");
        string name = form.Name!.Trim();
        if (await db.PieceSets.AnyAsync(s => s.OwnerId == form.OwnerId && s.Name == name, cancel))
            return new SaveOutcome<PieceSet>.Refused(nameof(form.Name), name, "a name that no other set of theirs has would be right");
        PieceSet set = new() { OwnerId = form.OwnerId, Name = name, Expected = form.Count };
        db.PieceSets.Add(set);
        await db.SaveChangesAsync(cancel);
        for (int slot = 1; slot <= form.Count; slot++)
        {
            PieceForm piece = new()
            {
                OwnerId = form.OwnerId, Kind = form.Kind, LengthMm = form.LengthMm, Name = Trimmed.Of(form.PieceName) ?? name, SetId = set.Id, Slot = slot.ToString(CultureInfo.InvariantCulture),
            };
            if (await pieces.AddAsync(db, piece, cancel) is SaveOutcome<Piece>.Refused refused)
                return new SaveOutcome<PieceSet>.Refused(refused.Problems);
        }

        return new SaveOutcome<PieceSet>.Saved(set);
    }

    /// <summary>Keeps a count with its difference in words.</summary>
    public async Task<SaveOutcome<SetCount>> CountAsync(BookContext db, CountForm form, CancellationToken cancel = default)
    {
        if (form.Strangers is < 0 or > MostSlots)
            return new SaveOutcome<SetCount>.Refused(nameof(form.Strangers), form.Strangers.ToString(CultureInfo.InvariantCulture), $"0 to {MostSlots} would be right");
        if (!await db.PieceSets.AnyAsync(s => s.Id == form.SetId, cancel))
            return new SaveOutcome<SetCount>.Refused(nameof(form.SetId), form.SetId.ToString(CultureInfo.InvariantCulture), "a set in the book would be right");
        DateTime now = form.Moment ?? clock.Now();
        SetCount count = new()
        {
            SetId = form.SetId, In = form.In, Count = form.Counted.Count + form.Strangers, HappenedAt = now, EnteredAt = now, Difference = DifferenceOf(form.Counted, form.Expected, form.Strangers),
        };
        return await db.AddFactAsync(count, c => c.SetId == form.SetId, cancel: cancel);
    }

    /// <summary>A loan set goes out, or comes back; <paramref name="moment"/> is the moment of the write it belongs to.</summary>
    public async Task<SaveOutcome<Loan>> LendAsync(BookContext db, long loanSetId, long ownerId, bool goesOut, int count, DateTime? moment = null, CancellationToken cancel = default)
    {
        LoanSet? set = await db.LoanSets.AsNoTracking().FirstOrDefaultAsync(s => s.Id == loanSetId, cancel);
        if (set is null)
            return new SaveOutcome<Loan>.Refused("LoanSetId", loanSetId.ToString(CultureInfo.InvariantCulture), "a loan set of the shop would be right");
        if (!await db.Owners.AnyAsync(o => o.Id == ownerId, cancel))
            return new SaveOutcome<Loan>.Refused("OwnerId", ownerId.ToString(CultureInfo.InvariantCulture), "an owner in the book would be right");
        if (count < (goesOut ? 1 : 0) || count > set.Pieces)
            return new SaveOutcome<Loan>.Refused("Count", count.ToString(CultureInfo.InvariantCulture), $"{(goesOut ? 1 : 0)} to {set.Pieces} would be right: so many pieces make this set");
        Loan? latest = await db.Loans.AsNoTracking().Standing().Where(l => l.LoanSetId == loanSetId).OrderByDescending(l => l.Id).FirstOrDefaultAsync(cancel);
        if (goesOut && latest is { Out: true })
            return new SaveOutcome<Loan>.Refused("LoanSetId", set.Name, "a loan set that is in the shop would be right; this one is out");
        if (!goesOut && (latest is not { Out: true } || latest.OwnerId != ownerId))
            return new SaveOutcome<Loan>.Refused("LoanSetId", set.Name, "a loan set that this owner has would be right");
        DateTime now = moment ?? clock.Now();
        Loan loan = new() { LoanSetId = loanSetId, OwnerId = ownerId, Out = goesOut, Count = count, HappenedAt = now, EnteredAt = now };
        return await db.AddFactAsync(loan, l => l.LoanSetId == loanSetId, cancel: cancel);
    }

    /// <summary>The difference in words and by slot; null where there is none.</summary>
    public static string? DifferenceOf(IReadOnlyCollection<string> counted, IReadOnlyCollection<string> expected, int strangers = 0)
    {
        string[] missing = [.. InOrder(expected.Except(counted, StringComparer.Ordinal))], more = [.. InOrder(counted.Except(expected, StringComparer.Ordinal))];
        List<string> words = [];
        if (missing.Length > 0)
            words.Add($"{missing.Length} missing: slot{(missing.Length == 1 ? "" : "s")} {string.Join(", ", missing)}");
        if (more.Length > 0)
            words.Add($"{more.Length} too many: slot{(more.Length == 1 ? "" : "s")} {string.Join(", ", more)}");
        if (strangers > 0)
            words.Add($"{strangers} that belong{(strangers == 1 ? "s" : "")} to no slot");
        return words.Count == 0 ? null : string.Join("; ", words);
    }

    /// <summary>Slots in words, whole stretches as one: "1 to 6, 8, 9".</summary>
    public static string SlotsInWords(IEnumerable<string> slots)
    {
        List<(string From, string To, int Count, int? Number)> stretches = [];
        foreach (string slot in InOrder(slots))
        {
            int? number = int.TryParse(slot, NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : null;
            if (number is not null && stretches.Count > 0 && stretches[^1] is { Number: { } last } open && number == last + 1)
                stretches[^1] = (open.From, slot, open.Count + 1, number);
            else
                stretches.Add((slot, slot, 1, number));
        }

        return string.Join(", ", stretches.Select(s => s.Count switch { 1 => s.From, 2 => $"{s.From}, {s.To}", _ => $"{s.From} to {s.To}" }));
    }

    /// <summary>Slots as one counts them: 2 before 10.</summary>
    public static IEnumerable<string> InOrder(IEnumerable<string> slots) =>
        slots.OrderBy(s => int.TryParse(s, NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : int.MaxValue).ThenBy(s => s, StringComparer.Ordinal);
}
