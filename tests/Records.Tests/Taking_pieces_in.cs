using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Taking_pieces_in : BookTest
{
    [Fact]
    public async Task Three_pieces_share_one_receipt_and_each_gets_a_tag_of_its_own()
    {
        Owner owner = await Owner();
        IntakeDone done = await TakeIn(owner.Id, New("bread knife"), New("paring knife"), New("shears", PieceKind.Scissors));

        await using BookContext db = Db();
        List<Visit> visits = await db.Visits.Include(v => v.Piece).Where(v => v.IntakeId == done.IntakeId).ToListAsync();
        Assert.Equal(["bread knife", "paring knife", "shears"], visits.OrderBy(v => v.Id).Select(v => v.Piece!.Name));
        Assert.Equal([1001, 1002, 1003], done.Visits.Select(v => v.Tag));
    }

    [Fact]
    public async Task Charges_and_deposit_are_saved_with_the_receipt()
    {
        Owner owner = await Owner();
        IntakeDone done = await Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm
        {
            OwnerId = owner.Id,
            Pieces = [New("bread knife") with { Charges = [new ChargeForm { Text = "knife", AmountMinor = 900, Minutes = 12 }, new ChargeForm { Text = "chip", AmountMinor = 300, Minutes = 6 }] }],
            DepositMinor = 500,
            DepositHow = "cash",
        }));

        Assert.Equal(700, await Get<AccountQuery>().DueAsync([done.Visits[0].VisitId]));
    }

    [Fact]
    public async Task A_wrong_second_piece_saves_nothing_of_the_first_and_names_its_field()
    {
        Owner owner = await Owner();
        IReadOnlyList<FieldProblem> problems = await Refused(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm
        {
            OwnerId = owner.Id,
            Pieces = [New("bread knife"), New("knife") with { NewPiece = new PieceForm { LengthMm = double.NaN } }],
        }));

        Assert.Equal("Pieces[1].LengthMm", Assert.Single(problems).Field);
        await using BookContext db = Db();
        Assert.False(await db.Visits.AnyAsync() || await db.Intakes.AnyAsync() || await db.Pieces.AnyAsync());
    }

    [Fact]
    public async Task A_charge_that_is_refused_after_rows_were_written_leaves_none_of_them()
    {
        Owner owner = await Owner();
        await Refused(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm
        {
            OwnerId = owner.Id,
            Pieces = [New("bread knife") with { Charges = [new ChargeForm { Text = "", AmountMinor = 900 }] }],
        }));

        await using BookContext db = Db();
        Assert.False(await db.Visits.AnyAsync() || await db.Intakes.AnyAsync() || await db.Pieces.AnyAsync());
        Assert.Equal(1001, (await db.Shop.SingleAsync()).NextTag);
    }

    [Fact]
    public async Task A_piece_that_is_here_cannot_come_again_and_its_tag_is_told()
    {
        Piece piece = await Piece((await Owner()).Id);
        await TakenIn(piece);

        IReadOnlyList<FieldProblem> problems = await Refused(db => Get<IntakeDesk>().TakeInAsync(
            db, new IntakeForm { OwnerId = piece.OwnerId, Pieces = [new PieceIntake { PieceId = piece.Id }] }));

        Assert.Contains(TagNumber.Format(1001), Assert.Single(problems).Right, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_charged_for_a_complaint()
    {
        Piece piece = await Piece((await Owner()).Id);
        VisitTag first = await TakenIn(piece);
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [first.VisitId] }));
        PieceIntake complaint = new() { PieceId = piece.Id, ComplaintAboutId = first.VisitId };

        IReadOnlyList<FieldProblem> problems = await Refused(db => Get<IntakeDesk>().TakeInAsync(
            db, new IntakeForm { OwnerId = piece.OwnerId, Pieces = [complaint with { Charges = [new ChargeForm { Text = "again", AmountMinor = 100 }] }] }));

        Assert.Equal("Pieces[0].Charges", Assert.Single(problems).Field);
        Assert.Equal(2, (await TakeIn(piece.OwnerId, complaint)).Visits[0].Tag - 1000);
    }

    [Fact]
    public async Task An_empty_intake_is_refused()
    {
        Owner owner = await Owner();
        Assert.Equal("Pieces", Assert.Single(await Refused(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm { OwnerId = owner.Id }))).Field);
    }

    private Task<IntakeDone> TakeIn(long owner, params PieceIntake[] pieces) =>
        Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm { OwnerId = owner, Pieces = pieces }));

    private static PieceIntake New(string name, PieceKind kind = PieceKind.DoubleBevel) => new() { NewPiece = new PieceForm { Name = name, Kind = kind } };
}
