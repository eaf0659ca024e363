using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Book.Pieces;

/// <summary>What can be changed of a piece.</summary>
public sealed class PieceEditForm : WebForm
{
    /// <summary>Filled from the book.</summary>
    public PieceEditForm(Piece piece, UnitsView units)
    {
        Id = piece.Id;
        Was = piece.Name;
        Kind = Add(new ChoiceField("kind", "Kind", [.. PieceKinds.All.Select(k => new Choice(k.Key(), BookWords.Kind(k)))]) { Required = true }).Fill(piece.Kind.Key());
        Name = Add(new TextField("name", "Name") { MaxLength = 200, Hint = "What it is called over the counter; from kind and length where it is empty." }).Fill(piece.Name);
        Length = Add(new LengthField("lengthMm", "Length of the edge", units) { MinMm = 1, MaxMm = 2000 });
        if (piece.LengthMm is { } mm)
            Length.Fill(Core.Quantities.Length.FromMillimetres(mm));
        Hand = Add(new ChoiceField("hand", "Made for", [new("", "either hand"), new("right", "the right hand"), new("left", "the left hand")])).Fill(piece.Hand ?? "");
        Steel = Add(new TextField("steel", "Steel") { MaxLength = 200, Hint = "The stamp, or the owner's words." }).Fill(piece.Steel);
        Slot = Add(new TextField("slot", "Slot or mark in its set") { MaxLength = 40 }).Fill(piece.Slot);
        Note = Add(new TextField("note", "Note") { MaxLength = 4000, Lines = 3 }).Fill(piece.Note);
        VersionSeen = piece.Version.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>Key.</summary>
    public long Id { get; }

    /// <summary>The name in the book.</summary>
    public string Was { get; }

    /// <summary>Kind.</summary>
    public ChoiceField Kind { get; }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Length.</summary>
    public LengthField Length { get; }

    /// <summary>Hand.</summary>
    public ChoiceField Hand { get; }

    /// <summary>Steel.</summary>
    public TextField Steel { get; }

    /// <summary>Slot.</summary>
    public TextField Slot { get; }

    /// <summary>Note.</summary>
    public TextField Note { get; }

    internal PieceForm Put(Piece piece) => PieceForm.From(piece) with
    {
        Kind = PieceKinds.FromKey(Kind.Value!) ?? piece.Kind,
        Name = Name.Value,
        LengthMm = Length.Value?.Millimetres,
        Hand = string.IsNullOrEmpty(Hand.Value) ? null : Hand.Value,
        Steel = Steel.Value,
        Slot = Slot.Value,
        Note = Note.Value,
    };
}

/// <summary>Changes a piece; a second tab is told and shown both versions.</summary>
internal static class PieceEdit
{
    public static async Task<IResult> ShowAsync(long id, PieceQuery pieces, UnitsView units, CancellationToken cancel) =>
        await pieces.OneAsync(id, cancel) is { } piece ? Of(new PieceEditForm(piece, units)) : PieceBook.None(id);

    public static async Task<IResult> SaveAsync(long id, HttpContext http, PieceQuery pieces, BookWriter writer, PieceDesk desk, UnitsView units, CancellationToken cancel)
    {
        if (await pieces.OneAsync(id, cancel) is not { } piece)
            return PieceBook.None(id);
        PieceEditForm form = new(piece, units);
        if (!await form.ReadAsync(http))
            return Of(form);
        switch (await writer.SubmitAsync(form.Once, db => desk.EditAsync(db, id, form.SeenVersion, form.Put(piece), cancel), _ => FormattableString.Invariant($"/book/pieces/{id}"), cancel))
        {
            case Submitted<Piece>.Done done:
                return Page.SeeOther(done.LedTo, "Saved.");
            case Submitted<Piece>.Conflict conflict:
                form.Meet(new PieceEditForm(conflict.Theirs, units), conflict.Theirs.Version);
                break;
            case Submitted<Piece>.Refused refused:
                form.Refuse(refused.Problems);
                break;
        }

        return Of(form);
    }

    private static IResult Of(PieceEditForm form) => Page.Of<PieceEditPage>("Change " + form.Was, form, Room.Book, form.Status);
}
