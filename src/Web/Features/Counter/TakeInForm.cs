using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter;

/// <summary>What an intake needs to know before anything is typed.</summary>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="Known">Their pieces that are not here.</param>
/// <param name="Extras">Extras of the price list.</param>
/// <param name="Earlier">Earlier visits that a complaint can be about.</param>
public sealed record TakeInGround(
    long OwnerId, string OwnerName, IReadOnlyList<PieceFound> Known, IReadOnlyList<PriceLine> Extras, IReadOnlyList<EarlierVisit> Earlier);

/// <summary>An earlier visit of the owner's.</summary>
/// <param name="VisitId">The visit.</param>
/// <param name="PieceId">The piece.</param>
/// <param name="Words">Tag and day in words.</param>
public sealed record EarlierVisit(long VisitId, long PieceId, string Words);

/// <summary>One piece as it is typed: a new one, or one that came again.</summary>
public sealed class PieceFields
{
    internal PieceFields(int row, PieceFound? known, TakeInGround ground, UnitsView units, Func<FormField, FormField> add)
    {
        Known = known;
        string at = known is null ? string.Create(CultureInfo.InvariantCulture, $"p{row}") : string.Create(CultureInfo.InvariantCulture, $"k{known.Id}");
        Comes = known is null ? null : Put(new FlagField(at + ".comes", Title(known, units)));
        Kind = Put(new ChoiceField(at + ".kind", "Kind", [.. PieceKinds.All.Select(k => new Choice(k.Key(), Capital(BenchWords.Kind(k))))]) { List = true, Required = true }).Fill((known?.Kind ?? PieceKind.DoubleBevel).Key());
        Length = Put(new LengthField(at + ".length", "Length of the edge", units) { MinMm = 1, MaxMm = 2000 }).Fill(known?.LengthMm is { } mm ? Core.Quantities.Length.FromMillimetres(mm) : null);
        Name = Put(new TextField(at + ".name", "What it is") { Hint = known is null ? "As you would call it: black handle, name on the blade." : null }).Fill(known?.Name);
        Wishes = Put(new TextField(at + ".wishes", "What they want") { MaxLength = 4000, Lines = 2 });
        Damage = Put(new TextField(at + ".damage", "Damage seen") { MaxLength = 4000, Lines = 2 });
        Acknowledged = Put(new FlagField(at + ".acknowledged", "They know of the damage"));
        Declined = Put(new TextField(at + ".declined", "Work declined, and why") { MaxLength = 4000 });
        Extras = Put(new ManyField(at + ".extras", "Extras", [.. ground.Extras.Select(e => new Choice(e.Id.ToString(CultureInfo.InvariantCulture), e.Name, units.Amount(e.AmountMinor)))]));
        PaperTag = Put(new TextField(at + ".tag", "Printed tag that hangs on it already")
        {
            MaxLength = 12,
            Keyboard = "text",
            Also = t => TagNumber.TryParse(t, out _) ? null : $"'{t}' is no tag number: its check digit does not fit; a number such as {TagNumber.Format(1047)} would be right",
        });
        Photo = Put(new PhotoField(at + ".photo", "Photo of the piece or its damage") { Several = true });
        List<Choice> about = [.. ground.Earlier.Where(e => known is null || e.PieceId == known.Id).Select(e => new Choice(e.VisitId.ToString(CultureInfo.InvariantCulture), e.Words))];
        Complaint = about.Count > 0 && known is not null ? Put(new ChoiceField(at + ".complaint", "It is a complaint about", about) { List = true }) : null;

        T Put<T>(T field)
            where T : FormField => (T)add(field);
    }

    /// <summary>The piece that came again; null for a new one.</summary>
    public PieceFound? Known { get; }

    /// <summary>It came again.</summary>
    public FlagField? Comes { get; }

    /// <summary>Kind.</summary>
    public ChoiceField Kind { get; }

    /// <summary>Length of the edge.</summary>
    public LengthField Length { get; }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Wishes.</summary>
    public TextField Wishes { get; }

    /// <summary>Damage.</summary>
    public TextField Damage { get; }

    /// <summary>Damage acknowledged.</summary>
    public FlagField Acknowledged { get; }

    /// <summary>Work declined.</summary>
    public TextField Declined { get; }

    /// <summary>Extras of the price list.</summary>
    public ManyField Extras { get; }

    /// <summary>A printed blank that hangs on it.</summary>
    public TextField PaperTag { get; }

    /// <summary>Photos.</summary>
    public PhotoField Photo { get; }

    /// <summary>The visit complained about.</summary>
    public ChoiceField? Complaint { get; }

    /// <summary>True where there is a piece in this row.</summary>
    public bool Filled => Comes?.Value ?? (Length.Typed.Length + Name.Typed.Length + Wishes.Typed.Length + Damage.Typed.Length + Declined.Typed.Length + PaperTag.Typed.Length > 0
        || Extras.Values.Count > 0 || KindValue != PieceKind.DoubleBevel);

    /// <summary>The kind.</summary>
    public PieceKind KindValue => PieceKinds.FromKey(Kind.Typed) ?? PieceKind.DoubleBevel;

    /// <summary>The length, mm.</summary>
    public double? LengthMm => Known is null ? Length.Value?.Millimetres : Known.LengthMm;

    private static string Title(PieceFound known, UnitsView units) =>
        (known.LengthMm is { } mm ? $"{known.Name}, {units.Length(mm, 0)}" : known.Name) + (known.Slot is { } slot ? $", slot {slot}" : "");

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}

/// <summary>Pieces of one owner as they come over the counter.</summary>
public sealed class TakeInForm : WebForm
{
    /// <summary>Name of the hidden field with the number of empty rows.</summary>
    public const string RowsName = "rows";

    /// <summary>Rows for new pieces at first: three fit a common visit.</summary>
    public const int FirstRows = 3;

    private const int MostRows = 60;

    /// <summary>With so many rows for new pieces.</summary>
    public TakeInForm(TakeInGround ground, UnitsView units, ShopView shop, int rows)
    {
        Ground = ground;
        Again = [.. ground.Known.Select((k, i) => new PieceFields(i, k, ground, units, Add))];
        New = [.. Enumerable.Range(0, Math.Clamp(rows, 1, MostRows)).Select(i => new PieceFields(i, null, ground, units, Add))];
        Promised = Add(new DateField("promisedFor", "Promised for"));
        Place = Add(new TextField("place", "Where it lies") { MaxLength = 60 });
        Deposit = Add(new MoneyField("deposit", "Deposit", shop.Currency));
        DepositHow = Add(new ChoiceField("depositHow", "Paid by", [new("cash", "Cash"), new("card", "Card"), new("transfer", "Transfer")])).Fill("cash");
    }

    /// <summary>What it began with.</summary>
    public TakeInGround Ground { get; }

    /// <summary>Pieces that may have come again.</summary>
    public IReadOnlyList<PieceFields> Again { get; }

    /// <summary>Rows for new pieces.</summary>
    public IReadOnlyList<PieceFields> New { get; }

    /// <summary>The day promised for all of them.</summary>
    public DateField Promised { get; }

    /// <summary>Where they lie.</summary>
    public TextField Place { get; }

    /// <summary>Deposit.</summary>
    public MoneyField Deposit { get; }

    /// <summary>How it was paid.</summary>
    public ChoiceField DepositHow { get; }

    /// <summary>Price and promise as they follow from what is typed.</summary>
    public TakeInOffer Offer { get; internal set; } = new([], 0, 0, null, []);

    /// <summary>All rows with a piece in them, those that came again first.</summary>
    public IEnumerable<PieceFields> Filled => Again.Concat(New).Where(p => p.Filled);

    /// <summary>Rows for new pieces that a sent form had, and one more where more was asked for.</summary>
    public static int RowsOf(IFormCollection sent)
    {
        int rows = int.TryParse(sent[RowsName], NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? Math.Clamp(n, 1, MostRows) : FirstRows;
        return sent[PreviewName] == "more" ? Math.Min(rows + 1, MostRows) : rows;
    }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (!Filled.Any())
            Refuse("No piece is entered; tick one that came again, or give the kind and length of a new one");
        foreach (PieceFields piece in Filled.Where(p => p.Acknowledged.Value && p.Damage.Value is null))
            piece.Damage.Refuse("is empty, yet they know of it; say in words what they know of");
    }
}

/// <summary>What it will cost and when it can be ready.</summary>
/// <param name="Charges">For each filled piece, in order: its charges.</param>
/// <param name="TotalMinor">Together.</param>
/// <param name="Minutes">Bench minutes together.</param>
/// <param name="Promise">The earliest day with room for it; null where the coming days are full.</param>
/// <param name="Days">The load of the coming days.</param>
public sealed record TakeInOffer(
    IReadOnlyList<IReadOnlyList<ChargeForm>> Charges, long TotalMinor, double Minutes, DateOnly? Promise, IReadOnlyList<Whetwright.Records.Shop.DayLoad> Days);
