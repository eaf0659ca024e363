using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Saving_what_was_typed : BookTest
{
    [Fact]
    public async Task The_same_form_twice_saves_once_and_gives_the_first_answer()
    {
        Submitted<Owner> first = await Submit("token-1", "Ana"), again = await Submit("token-1", "Ana");

        Assert.False(Assert.IsType<Submitted<Owner>.Done>(first).Again);
        Assert.Equal(new Submitted<Owner>.Done(((Submitted<Owner>.Done)first).LedTo, Again: true), again);
        Assert.Single(await Get<OwnerQuery>().FindAsync("Ana"));
    }

    [Fact]
    public async Task The_same_form_sent_twenty_times_at_once_saves_once()
    {
        Submitted<Owner>[] all = await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => Task.Run(() => Submit("token-2", "Bea"))));

        Assert.Single(all, s => s is Submitted<Owner>.Done { Again: false });
        Assert.Single(all.Cast<Submitted<Owner>.Done>().Select(d => d.LedTo).Distinct());
        Assert.Single(await Get<OwnerQuery>().FindAsync("Bea"));
    }

    [Fact]
    public async Task A_form_that_was_refused_may_be_sent_again_under_its_token()
    {
        Assert.IsType<Submitted<Owner>.Refused>(await Submit("token-3", " "));
        Assert.IsType<Submitted<Owner>.Done>(await Submit("token-3", "Cem"));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("0123456789012345678901234567890123456789012345678901234567890123456789")]
    public async Task A_form_without_a_token_of_its_own_is_refused(string? token) =>
        Assert.Equal("Token", Assert.IsType<Submitted<Owner>.Refused>(await Submit(token, "Dora")).Problems[0].Field);

    [Fact]
    public async Task A_write_that_fails_half_way_leaves_nothing_and_its_token_free()
    {
        await Assert.ThrowsAsync<InvalidOperationException>(() => Writer.SubmitAsync<Owner>(
            "token-4",
            async db =>
            {
                await Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = "Eli" });
                throw new InvalidOperationException("the lamp went out");
            },
            _ => ""));

        Assert.Empty(await Get<OwnerQuery>().FindAsync("Eli"));
        Assert.IsType<Submitted<Owner>.Done>(await Submit("token-4", "Eli"));
    }

    [Fact]
    public async Task The_second_of_two_tabs_is_told_and_gets_what_the_first_saved()
    {
        Owner owner = await Owner("Fay");
        await Saved(db => Get<OwnerDesk>().EditAsync(db, owner.Id, owner.Version, new OwnerForm { Name = "Fay Amsel" }));
        SaveOutcome<Owner> second = await Writer.WriteAsync(db => Get<OwnerDesk>().EditAsync(db, owner.Id, owner.Version, new OwnerForm { Name = "Fay Storch" }));

        Assert.Equal("Fay Amsel", Assert.IsType<SaveOutcome<Owner>.Conflict>(second).Theirs.Name);
        Assert.Equal("Fay Amsel", (await Get<OwnerQuery>().OneAsync(owner.Id))!.Name);
    }

    [Fact]
    public async Task Of_two_tabs_at_the_same_moment_exactly_one_saves()
    {
        Owner owner = await Owner("Gil");
        SaveOutcome<Owner>[] both = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => Task.Run(() =>
            Writer.WriteAsync(db => Get<OwnerDesk>().EditAsync(db, owner.Id, owner.Version, new OwnerForm { Name = $"Gil {i}" })))));
        Assert.Single(both, o => o is SaveOutcome<Owner>.Saved);
        Assert.Equal(7, both.Count(o => o is SaveOutcome<Owner>.Conflict));
    }

    [Fact]
    public async Task Every_save_counts_the_version_up()
    {
        Piece piece = await Piece((await Owner()).Id);
        Piece edited = await Saved(db => Get<PieceDesk>().EditAsync(db, piece.Id, piece.Version, PieceForm.From(piece) with { Steel = "1.4116" }));
        Assert.Equal(piece.Version + 1, edited.Version);
    }

    [Fact]
    public async Task A_second_tab_that_adds_a_fact_to_what_it_had_not_seen_is_told()
    {
        long visit = (await Visit()).VisitId;
        AimChosen first = await Saved(db => Log.AddAsync(db, Aim(visit, 13), Seen.Nothing));
        SaveOutcome<AimChosen> second = await Writer.WriteAsync(db => Log.AddAsync(db, Aim(visit, 15), Seen.Nothing));

        Assert.Equal(first.Id, Assert.IsType<SaveOutcome<AimChosen>.Conflict>(second).Theirs.Id);
        Assert.IsType<SaveOutcome<AimChosen>.Saved>(await Writer.WriteAsync(db => Log.AddAsync(db, Aim(visit, 15), Seen.Fact(first.Id))));
    }

    [Fact]
    public async Task A_correction_takes_the_place_of_what_it_corrects_and_both_stay_in_the_book()
    {
        long visit = (await Visit()).VisitId;
        AimChosen wrong = await Add(Aim(visit, 31));
        AimChosen right = await Add(Aim(visit, 13, corrects: wrong.Id));

        await using BookContext db = Db();
        Assert.Equal([right.Id], await db.Aims.Standing().Select(a => a.Id).ToListAsync());
        Assert.Equal([31, 13], await db.Aims.OrderBy(a => a.Id).Select(a => a.LeftDeg).ToListAsync());
    }

    [Fact]
    public async Task A_fact_is_corrected_once_and_the_second_who_tries_gets_the_first_correction()
    {
        long visit = (await Visit()).VisitId;
        AimChosen wrong = await Add(Aim(visit, 31));
        AimChosen right = await Add(Aim(visit, 13, corrects: wrong.Id));
        Assert.Equal(right.Id, Assert.IsType<SaveOutcome<AimChosen>.Conflict>(await Writer.WriteAsync(db => Log.AddAsync(db, Aim(visit, 14, corrects: wrong.Id)))).Theirs.Id);
    }

    [Fact]
    public async Task A_correction_names_a_fact_of_its_own_visit()
    {
        AimChosen elsewhere = await Add(Aim((await Visit()).VisitId, 13));
        long here = (await TakenIn(await Piece((await Owner("Hal")).Id))).VisitId;
        Assert.Equal("CorrectsId", Assert.Single(await Refused(db => Log.AddAsync(db, Aim(here, 14, corrects: elsewhere.Id)))).Field);
    }

    [Fact]
    public async Task A_fact_is_never_changed_or_deleted()
    {
        AimChosen aim = await Add(Aim((await Visit()).VisitId, 13));
        await using BookContext db = Db();
        AimChosen row = await db.Aims.SingleAsync(a => a.Id == aim.Id);
        db.Entry(row).Property(a => a.LeftDeg).CurrentValue = 14;
        await Assert.ThrowsAsync<InvalidOperationException>(() => db.SaveChangesAsync());
        db.Entry(row).State = EntityState.Deleted;
        await Assert.ThrowsAsync<InvalidOperationException>(() => db.SaveChangesAsync());
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-1)]
    [InlineData(90)]
    public async Task An_angle_that_no_edge_has_is_refused_by_name_and_value(double deg)
    {
        long visit = (await Visit()).VisitId;
        FieldProblem problem = Assert.Single(await Refused(db => Log.AddAsync(db, Aim(visit, deg, right: 13))));
        Assert.Equal("LeftDeg", problem.Field);
        Assert.Contains("0 to 89", problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Times_come_back_as_UTC_to_the_microsecond()
    {
        Owner owner = await Owner();
        DateTime back = (await Get<OwnerQuery>().OneAsync(owner.Id))!.EnteredAt;
        Assert.Equal((DateTimeKind.Utc, owner.EnteredAt), (back.Kind, back));
    }

    [Fact]
    public async Task A_hand_back_ends_the_visit_and_undoing_it_opens_it_again()
    {
        VisitTag visit = await Visit();
        HandBack handBack = (await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [visit.VisitId] })))[0];
        await using (BookContext db = Db())
            Assert.Equal(handBack.Id, (await db.Visits.SingleAsync(v => v.Id == visit.VisitId)).HandBackId);

        await Saved(db => Get<HandBackDesk>().UndoAsync(db, visit.VisitId));
        await using (BookContext db = Db())
        {
            Assert.Null((await db.Visits.SingleAsync(v => v.Id == visit.VisitId)).HandBackId);
            Assert.Empty(await db.HandBacks.Standing().ToListAsync());
            Assert.Equal(2, await db.HandBacks.CountAsync());
        }
    }

    [Fact]
    public async Task A_piece_is_handed_back_once()
    {
        VisitTag visit = await Visit();
        HandBackForm form = new() { VisitIds = [visit.VisitId] };
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, form));
        Assert.IsType<SaveOutcome<IReadOnlyList<HandBack>>.Conflict>(await Writer.WriteAsync(db => Get<HandBackDesk>().HandBackAsync(db, form)));
    }

    private Task<Submitted<Owner>> Submit(string? token, string name) =>
        Writer.SubmitAsync(token, db => Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = name }), o => $"/owners/{o.Id}");

    private AimChosen Aim(long visit, double deg, long? corrects = null, double? right = null) =>
        new() { VisitId = visit, LeftDeg = deg, RightDeg = right ?? deg, CorrectsId = corrects, HappenedAt = Clock.Now(), EnteredAt = Clock.Now() };
}
