using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Pieces;

/// <summary>What is typed about a piece.</summary>
public sealed record PieceForm
{
    /// <summary>Whose.</summary>
    public long OwnerId { get; init; }

    /// <summary>Kind.</summary>
    public PieceKind Kind { get; init; }

    /// <summary>What it is called over the counter; made from kind and length where it is left empty.</summary>
    public string? Name { get; init; }

    /// <summary>Length of the edge, mm.</summary>
    public double? LengthMm { get; init; }

    /// <summary>"left" or "right" for a piece made for one hand.</summary>
    public string? Hand { get; init; }

    /// <summary>Steel, in words.</summary>
    public string? Steel { get; init; }

    /// <summary>What the shop wants to remember.</summary>
    public string? Note { get; init; }

    /// <summary>The blade in our blade format.</summary>
    public string? BladeJson { get; init; }

    /// <summary>The owner's set it belongs to.</summary>
    public long? SetId { get; init; }

    /// <summary>Slot or mark within the set.</summary>
    public string? Slot { get; init; }

    /// <summary>A form filled from what is in the book.</summary>
    public static PieceForm From(Piece piece) => new()
    {
        OwnerId = piece.OwnerId,
        Kind = piece.Kind,
        Name = piece.Name,
        LengthMm = piece.LengthMm,
        Hand = piece.Hand,
        Steel = piece.Steel,
        Note = piece.Note,
        BladeJson = piece.BladeJson,
        SetId = piece.SetId,
        Slot = piece.Slot,
    };

    /// <summary>What is wrong with it; empty where nothing is.</summary>
    public IReadOnlyList<FieldProblem> Problems()
    {
        FormCheck check = new();
        check.That(Enum.IsDefined(Kind), nameof(Kind), Kind, "a kind of piece would be right").Longest(nameof(Name), Name, 200)
            .Within(nameof(LengthMm), LengthMm, 1, 2000, "mm").OneOf(nameof(Hand), Hand, "left", "right")
            .Longest(nameof(Steel), Steel, 200).Longest(nameof(Note), Note, 4000).Longest(nameof(Slot), Slot, 40);
        return check.Problems;
    }
}

/// <summary>Adds and edits pieces.</summary>
/// <param name="clock">The time.</param>
public sealed class PieceDesk(BookClock clock)
{
    /// <summary>Adds a piece.</summary>
    public async Task<SaveOutcome<Piece>> AddAsync(BookContext db, PieceForm form, CancellationToken cancel = default)
    {
        (IReadOnlyList<FieldProblem> problems, string owner) = await ProblemsAsync(db, form, cancel);
        if (problems.Count > 0)
            return new SaveOutcome<Piece>.Refused(problems);
        Piece piece = new() { Name = NameOf(form), EnteredAt = clock.Now() };
        Fill(piece, form, owner);
        db.Pieces.Add(piece);
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<Piece>.Saved(piece);
    }

    /// <summary>Edits a piece as the form saw it.</summary>
    public async Task<SaveOutcome<Piece>> EditAsync(BookContext db, long id, int seen, PieceForm form, CancellationToken cancel = default)
    {
        (IReadOnlyList<FieldProblem> problems, string owner) = await ProblemsAsync(db, form, cancel);
        return problems.Count > 0
            ? new SaveOutcome<Piece>.Refused(problems)
            : await db.EditAsync<Piece>(id, seen, piece => Fill(piece, form, owner), cancel);
    }

    internal static string SearchTextOf(Piece piece, string owner) => Folded.Of(piece.Name, piece.Slot, piece.Steel, owner);

    private static async Task<(IReadOnlyList<FieldProblem> Problems, string Owner)> ProblemsAsync(BookContext db, PieceForm form, CancellationToken cancel)
    {
        List<FieldProblem> problems = [.. form.Problems()];
        string? owner = await db.Owners.Where(o => o.Id == form.OwnerId).Select(o => o.Name).FirstOrDefaultAsync(cancel);
        if (owner is null)
            problems.Add(new FieldProblem(nameof(form.OwnerId), form.OwnerId.ToString(CultureInfo.InvariantCulture), "an owner in the book would be right"));
        if (form.SetId is { } set && !await db.PieceSets.AnyAsync(s => s.Id == set && s.OwnerId == form.OwnerId, cancel))
            problems.Add(new FieldProblem(nameof(form.SetId), set.ToString(CultureInfo.InvariantCulture), "a set of this owner would be right"));
        return (problems, owner ?? "");
    }

    private static void Fill(Piece piece, PieceForm form, string owner)
    {
        piece.OwnerId = form.OwnerId;
        piece.Kind = form.Kind;
        piece.Name = NameOf(form);
        piece.LengthMm = form.LengthMm;
        piece.Hand = form.Hand;
        piece.Steel = Trimmed.Of(form.Steel);
        piece.Note = Trimmed.Of(form.Note);
        piece.BladeJson = Trimmed.Of(form.BladeJson);
        piece.SetId = form.SetId;
        piece.Slot = Trimmed.Of(form.Slot);
        piece.SearchText = SearchTextOf(piece, owner);
    }

    private static string NameOf(PieceForm form)
    {
        if (Trimmed.Of(form.Name) is { } typed)
            return typed;
        string kind = form.Kind.Key().Replace('-', ' ');
        return form.LengthMm is { } mm ? string.Create(CultureInfo.InvariantCulture, $"{kind}, {mm:0} mm") : kind;
    }
}
