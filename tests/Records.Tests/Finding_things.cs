using Whetwright.Core.Blades;
using Whetwright.Records.History;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Finding_things : BookTest
{
    [Theory]
    [InlineData("ruß")]
    [InlineData("MARLIES")]
    [InlineData("lies  ruß")]
    [InlineData("0170 555")]
    [InlineData("55501")]
    [InlineData("+49 170")]
    [InlineData("1001")]
    public async Task An_owner_is_found_by_any_part_of_name_phone_or_tag(string typed)
    {
        await Owner("Somebody Else", "0611 1");
        Owner owner = await Owner("Marlies Rußwurm", "+49 (170) 555-0199");
        await TakenIn(await Piece(owner.Id));
        Assert.Equal(owner.Id, Assert.Single(await Get<OwnerQuery>().FindAsync(typed)).Id);
    }

    [Fact]
    public async Task Accents_do_not_matter()
    {
        Owner owner = await Owner("Zoë Čapek");
        Assert.Equal(owner.Id, Assert.Single(await Get<OwnerQuery>().FindAsync("zoe cap")).Id);
    }

    [Fact]
    public async Task Signs_between_words_are_gaps_and_every_word_must_be_there()
    {
        Owner owner = await Owner("Ana-Maria Lind");
        Assert.Equal(owner.Id, Assert.Single(await Get<OwnerQuery>().FindAsync("maria%ana")).Id);
        Assert.Empty(await Get<OwnerQuery>().FindAsync("ana_x"));
    }

    [Fact]
    public async Task A_piece_without_its_tag_is_found_by_kind_and_length_the_nearest_first()
    {
        Owner owner = await Owner();
        Piece far = await Piece(owner.Id, "knife a", 218), near = await Piece(owner.Id, "knife b", 211);
        await Piece(owner.Id, "knife c", 240);
        await Piece(owner.Id, "shears", 210, PieceKind.Scissors);
        await TakenIn(near);
        await TakenIn(far);

        IReadOnlyList<PieceFound> found = await Get<PieceQuery>().FindAsync(new PieceWanted { Kind = PieceKind.DoubleBevel, LengthMm = 210, HereOnly = true });
        Assert.Equal([near.Id, far.Id], found.Select(p => p.Id));
        Assert.Equal(1001, found[0].Tag);
    }

    [Fact]
    public async Task A_piece_is_found_by_its_owners_new_name_after_a_wedding()
    {
        Owner owner = await Owner("Ina Falk");
        Piece piece = await Piece(owner.Id);
        await Saved(db => Get<OwnerDesk>().EditAsync(db, owner.Id, owner.Version, new OwnerForm { Name = "Ina Sperber" }));
        Assert.Equal(piece.Id, Assert.Single(await Get<PieceQuery>().FindAsync(new PieceWanted { Typed = "sperber kitchen" })).Id);
        Assert.Empty(await Get<PieceQuery>().FindAsync(new PieceWanted { Typed = "falk" }));
    }

    [Fact]
    public async Task The_books_search_finds_the_visit_of_a_tag_with_its_check_digit()
    {
        VisitTag visit = await Visit();
        Assert.Equal(visit, (await Get<BookQuery>().SearchAsync(TagNumber.Format(visit.Tag))).Visit);
        Assert.Null((await Get<BookQuery>().SearchAsync("nobody")).Visit);
    }

    [Fact]
    public async Task An_owners_history_has_every_piece_and_visit()
    {
        Owner owner = await Owner();
        Piece piece = await Piece(owner.Id);
        VisitTag first = await TakenIn(piece);
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [first.VisitId] }));
        VisitTag second = await TakenIn(piece);

        OwnerHistory history = (await Get<BookQuery>().OwnerAsync(owner.Id))!;
        Assert.Equal([second.VisitId, first.VisitId], history.Visits.Select(v => v.VisitId));
        Assert.Equal([true, false], history.Visits.Select(v => v.HandedBack is null));
        Assert.Equal(2, (await Get<BookQuery>().PieceAsync(piece.Id))!.Visits.Count);
    }

    [Theory]
    [InlineData("", null, null, "Name")]
    [InlineData("Ana", "none", null, "Phone")]
    [InlineData("Ana", null, "ana.example.org", "Email")]
    public async Task A_wrong_field_of_an_owner_is_named(string name, string? phone, string? email, string field) =>
        Assert.Equal(field, Assert.Single(await Refused(db => Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = name, Phone = phone, Email = email }))).Field);
}
