using System.Globalization;
using Whetwright.Core.Blades;
using Whetwright.Records.Pieces;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Kit;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Late;

/// <summary>One piece as it stands on the paper receipt.</summary>
public sealed class LatePiece
{
    internal LatePiece(int row, UnitsView units, ShopView shop, Func<FormField, FormField> add)
    {
        string at = string.Create(CultureInfo.InvariantCulture, $"p{row}.");
        Tag = (TextField)add(new TextField(at + "tag", "Tag")
        {
            MaxLength = 12,
            Also = t => TagNumber.TryParse(t, out _) ? null : $"'{t}' is no tag number: its check digit does not fit; a number such as {TagNumber.Format(1047)} would be right",
        });
        Kind = ((ChoiceField)add(new ChoiceField(at + "kind", "Kind", KitWords.Kinds) { List = true, Required = true })).Fill(PieceKind.DoubleBevel.Key());
        Length = (LengthField)add(new LengthField(at + "length", "Length of the edge", units) { MinMm = 1, MaxMm = 2000 });
        Name = (TextField)add(new TextField(at + "name", "What it is"));
        Price = (MoneyField)add(new MoneyField(at + "price", "Price written", shop.Currency));
        Wishes = (TextField)add(new TextField(at + "wishes", "Wanted") { MaxLength = 4000 });
        Damage = (TextField)add(new TextField(at + "damage", "Damage seen, signed for") { MaxLength = 4000 });
        Declined = (TextField)add(new TextField(at + "declined", "Not to be done") { MaxLength = 4000 });
    }

    /// <summary>Its printed tag.</summary>
    public TextField Tag { get; }

    /// <summary>Kind.</summary>
    public ChoiceField Kind { get; }

    /// <summary>Length.</summary>
    public LengthField Length { get; }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Price.</summary>
    public MoneyField Price { get; }

    /// <summary>Wishes.</summary>
    public TextField Wishes { get; }

    /// <summary>Damage.</summary>
    public TextField Damage { get; }

    /// <summary>Declined.</summary>
    public TextField Declined { get; }

    /// <summary>Something was typed.</summary>
    public bool IsFilled => new FormField[] { Tag, Length, Name, Price, Wishes, Damage, Declined }.Any(f => f.Typed.Length > 0);

    internal PieceIntake Intake(DateOnly? promised) => new()
    {
        PaperTag = TagNumber.TryParse(Tag.Value, out int tag) ? tag : null,
        NewPiece = new PieceForm { Kind = PieceKinds.FromKey(Kind.Value!)!.Value, LengthMm = Length.Value?.Millimetres, Name = Name.Value },
        PromisedFor = promised,
        Wishes = Wishes.Value,
        Damage = Damage.Value,
        DamageAcknowledged = Damage.Value is not null,
        Declined = Declined.Value,
        Charges = Price.Minor is { } minor and > 0 ? [new() { Text = "Sharpening, as written on the receipt", AmountMinor = minor }] : [],
    };

    internal FormField? Of(string field) => field switch
    {
        "PaperTag" => Tag,
        "Kind" => Kind,
        "LengthMm" => Length,
        "Name" => Name,
        "Wishes" => Wishes,
        "Damage" => Damage,
        "Declined" => Declined,
        _ => null,
    };
}

/// <summary>A receipt that was written on paper: when it happened, apart from when it is entered.</summary>
public sealed class LateForm : WebForm
{
    /// <summary>As many rows as a paper form has.</summary>
    public const int Rows = 5;

    internal LateForm(UnitsView units, ShopView shop)
    {
        At = Add(new MomentField("happenedAt", "When they came, as written") { Required = true });
        Owner = Add(new TextField("owner", "Name") { Required = true });
        Phone = Add(new TextField("phone", "Telephone or mail") { MaxLength = 100, Hint = "Where one owner in the book has both, the pieces go there; else a new one is entered." });
        Promised = Add(new DateField("promisedFor", "Ready by"));
        Deposit = Add(new MoneyField("deposit", "Deposit", shop.Currency));
        Pieces = [.. Enumerable.Range(0, Rows).Select(i => new LatePiece(i, units, shop, Add))];
    }

    /// <summary>When it happened.</summary>
    public MomentField At { get; }

    /// <summary>Whose.</summary>
    public TextField Owner { get; }

    /// <summary>Telephone or mail.</summary>
    public TextField Phone { get; }

    /// <summary>Promise.</summary>
    public DateField Promised { get; }

    /// <summary>Deposit.</summary>
    public MoneyField Deposit { get; }

    /// <summary>Pieces.</summary>
    public IReadOnlyList<LatePiece> Pieces { get; }

    /// <summary>Those with something in them.</summary>
    public IReadOnlyList<LatePiece> Filled => [.. Pieces.Where(p => p.IsFilled)];

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Filled.Count == 0)
            Pieces[0].Tag.Refuse("is empty, and so are all others; the tag of the first piece would be right");
        foreach (LatePiece piece in Filled.Where(p => p.Tag.Value is null))
            piece.Tag.Refuse("is empty; the printed number that hangs on it would be right");
    }
}
