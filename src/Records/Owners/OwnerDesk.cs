using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Owners;

/// <summary>What is typed about an owner.</summary>
public sealed record OwnerForm
{
    /// <summary>Name as they give it.</summary>
    public string? Name { get; init; }

    /// <summary>Telephone as written.</summary>
    public string? Phone { get; init; }

    /// <summary>Mail address.</summary>
    public string? Email { get; init; }

    /// <summary>Postal address.</summary>
    public string? Address { get; init; }

    /// <summary>What the shop wants to remember.</summary>
    public string? Note { get; init; }

    /// <summary>Pays by monthly statement.</summary>
    public bool IsAccount { get; init; }

    /// <summary>A form filled from what is in the book.</summary>
    public static OwnerForm From(Owner owner) => new()
    {
        Name = owner.Name,
        Phone = owner.Phone,
        Email = owner.Email,
        Address = owner.Address,
        Note = owner.Note,
        IsAccount = owner.IsAccount,
    };

    /// <summary>What is wrong with it; empty where nothing is.</summary>
    public IReadOnlyList<FieldProblem> Problems()
    {
        FormCheck check = new();
        check.Text(nameof(Name), Name, "a name would be right, however short").Longest(nameof(Phone), Phone, 60).Longest(nameof(Email), Email, 200)
            .Longest(nameof(Address), Address, 1000).Longest(nameof(Note), Note, 4000)
            .That(string.IsNullOrWhiteSpace(Phone) || Phone.Any(char.IsDigit), nameof(Phone), Phone, "a number with digits would be right, or nothing")
            .That(string.IsNullOrWhiteSpace(Email) || LooksLikeMail(Email.Trim()), nameof(Email), Email, "an address such as name@example.org would be right, or nothing");
        return check.Problems;
    }

    private static bool LooksLikeMail(string mail) =>
        mail.IndexOf('@', StringComparison.Ordinal) is int at and > 0 && at == mail.LastIndexOf('@') && at < mail.Length - 1 && !mail.Any(char.IsWhiteSpace);
}

/// <summary>Adds and edits owners.</summary>
/// <param name="clock">The time.</param>
public sealed class OwnerDesk(BookClock clock)
{
    /// <summary>Adds an owner.</summary>
    public async Task<SaveOutcome<Owner>> AddAsync(BookContext db, OwnerForm form, CancellationToken cancel = default)
    {
        if (form.Problems() is { Count: > 0 } problems)
            return new SaveOutcome<Owner>.Refused(problems);
        Owner owner = new() { Name = form.Name!.Trim(), EnteredAt = clock.Now() };
        Fill(owner, form);
        db.Owners.Add(owner);
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<Owner>.Saved(owner);
    }

    /// <summary>Edits an owner as the form saw it.</summary>
    public async Task<SaveOutcome<Owner>> EditAsync(BookContext db, long id, int seen, OwnerForm form, CancellationToken cancel = default)
    {
        if (form.Problems() is { Count: > 0 } problems)
            return new SaveOutcome<Owner>.Refused(problems);
        SaveOutcome<Owner> outcome = await db.EditAsync<Owner>(id, seen, owner => Fill(owner, form), cancel);
        if (outcome is SaveOutcome<Owner>.Saved saved)
            await RefoldPiecesAsync(db, saved.Value, cancel);
        return outcome;
    }

    private static void Fill(Owner owner, OwnerForm form)
    {
        owner.Name = form.Name!.Trim();
        owner.Phone = Trimmed.Of(form.Phone);
        owner.Email = Trimmed.Of(form.Email);
        owner.Address = Trimmed.Of(form.Address);
        owner.Note = Trimmed.Of(form.Note);
        owner.IsAccount = form.IsAccount;
        owner.SearchText = Folded.Of(owner.Name, owner.Phone, owner.Email);
    }

    /// <summary>Pieces are found by their owner's name, too: it follows without counting as an edit of the piece.</summary>
    private static async Task RefoldPiecesAsync(BookContext db, Owner owner, CancellationToken cancel)
    {
        foreach (Piece piece in await db.Pieces.AsNoTracking().Where(p => p.OwnerId == owner.Id).ToListAsync(cancel))
        {
            string folded = PieceDesk.SearchTextOf(piece, owner.Name);
            if (folded != piece.SearchText)
                await db.Pieces.Where(p => p.Id == piece.Id).ExecuteUpdateAsync(set => set.SetProperty(p => p.SearchText, folded), cancel);
        }
    }
}
