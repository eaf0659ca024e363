using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Sets;

/// <summary>A new set: all its pieces in one go.</summary>
public sealed class NewSetForm : WebForm
{
    /// <summary>Empty.</summary>
    public NewSetForm(UnitsView units)
    {
        Name = Add(new TextField("name", "Name of the set") { Required = true, MaxLength = 80, Hint = "As they call it: line knives." });
        Count = Add(new NumberField("count", "How many") { Required = true, Whole = true, Min = 1, Max = SetDesk.MostSlots });
        Kind = Add(new ChoiceField("kind", "Kind", [.. PieceKinds.All.Select(k => new Choice(k.Key(), BenchWords.Kind(k)))]) { List = true, Required = true }).Fill(PieceKind.DoubleBevel.Key());
        Length = Add(new LengthField("length", "Length of the edge", units) { MinMm = 1, MaxMm = 2000 });
        PieceName = Add(new TextField("pieceName", "What each is called") { MaxLength = 120, Hint = "Empty: as the set." });
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>How many.</summary>
    public NumberField Count { get; }

    /// <summary>Kind of each.</summary>
    public ChoiceField Kind { get; }

    /// <summary>Length of each.</summary>
    public LengthField Length { get; }

    /// <summary>Name of each.</summary>
    public TextField PieceName { get; }
}

/// <summary>An owner's sets.</summary>
/// <param name="Owner">Whose.</param>
/// <param name="Sets">The sets.</param>
/// <param name="Form">A new one.</param>
public sealed record OwnerSetsModel(Owner Owner, IReadOnlyList<SetStanding> Sets, NewSetForm Form);

/// <summary>Shows the sets of an owner and makes one.</summary>
internal static class OwnerSets
{
    public static async Task<IResult> ShowAsync(long ownerId, OwnerQuery owners, SetQuery sets, UnitsView units, CancellationToken cancel) =>
        await owners.OneAsync(ownerId, cancel) is { } owner ? Of(new(owner, await sets.OfAsync(ownerId, cancel), new(units))) : Nobody();

    public static async Task<IResult> SaveAsync(long ownerId, HttpContext http, OwnerQuery owners, SetQuery sets, BookWriter writer, SetDesk desk, UnitsView units, CancellationToken cancel)
    {
        if (await owners.OneAsync(ownerId, cancel) is not { } owner)
            return Nobody();
        NewSetForm form = new(units);
        if (await form.ReadAsync(http))
        {
            SetForm made = new()
            {
                OwnerId = ownerId, Name = form.Name.Value, Count = (int)form.Count.Value!.Value, Kind = PieceKinds.FromKey(form.Kind.Typed) ?? PieceKind.DoubleBevel,
                LengthMm = form.Length.Value?.Millimetres, PieceName = form.PieceName.Value,
            };
            Submitted<PieceSet> saved = await writer.SubmitAsync(form.Once, db => desk.MakeAsync(db, made, cancel), _ => Address(ownerId), cancel);
            if (saved is Submitted<PieceSet>.Done done)
                return Page.SeeOther(done.LedTo, $"{form.Name.Value}: {units.Number(form.Count.Value!.Value)} pieces, slots 1 to {units.Number(form.Count.Value.Value)}.");
            if (saved is Submitted<PieceSet>.Refused refused)
                form.Refuse(refused.Problems);
        }

        return Of(new(owner, await sets.OfAsync(ownerId, cancel), form));
    }

    internal static string Address(long ownerId) => string.Create(CultureInfo.InvariantCulture, $"/counter/sets/{ownerId}");

    internal static IResult Nobody() => Page.NotFound("There is no such owner in the book; look for the name at the counter.");

    private static IResult Of(OwnerSetsModel model) => Page.Of<OwnerSetsPage>($"Sets: {model.Owner.Name}", model, Room.Counter, model.Form.Status);
}
