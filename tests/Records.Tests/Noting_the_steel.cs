using Whetwright.Records.Bench;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

/// <summary>A piece's steel is noted at a visit and goes with the piece.</summary>
public sealed class Noting_the_steel : BookTest
{
    [Fact]
    public async Task What_was_noted_at_an_earlier_visit_counts_until_something_later_is()
    {
        Piece piece = await Piece((await Owner()).Id);
        VisitTag first = await TakenIn(piece);
        await Add(Steel(first.VisitId, 58));
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [first.VisitId] }));
        VisitTag again = await TakenIn(piece);

        Assert.Equal((58.0, "data sheet"), await NowAsync(again));
        await Add(Steel(again.VisitId, 61, "hardness tested here"));
        Assert.Equal((61.0, "hardness tested here"), await NowAsync(again));
    }

    [Fact]
    public async Task A_correction_counts_in_place_of_what_it_corrects_and_what_is_taken_back_leaves_the_earlier_one()
    {
        VisitTag visit = await Visit();
        SteelNoted before = await Add(Steel(visit.VisitId, 58));
        SteelNoted wrong = await Add(Steel(visit.VisitId, 65));
        SteelNoted right = await Add(Steel(visit.VisitId, 63, corrects: wrong.Id));

        Assert.Equal(63, (await NowAsync(visit))!.Value.Hrc);
        await Add(new SteelNoted { VisitId = visit.VisitId, CorrectsId = right.Id, Withdrawn = true, Source = right.Source, HardnessHrc = right.HardnessHrc, HappenedAt = Clock.Now(), EnteredAt = Clock.Now() });
        Assert.Equal(before.HardnessHrc, (await NowAsync(visit))!.Value.Hrc);
    }

    [Fact]
    public async Task Another_pieces_steel_says_nothing_of_this_one()
    {
        long owner = (await Owner()).Id;
        VisitTag one = await TakenIn(await Piece(owner)), other = await TakenIn(await Piece(owner, "bread knife"));
        await Add(Steel(one.VisitId, 58));

        Assert.Null(await NowAsync(other));
    }

    [Theory]
    [InlineData(580, 6, "data sheet", nameof(SteelNoted.HardnessHrc))]
    [InlineData(58, 60, "data sheet", nameof(SteelNoted.ChromiumCarbidePercent))]
    [InlineData(58, 6, " ", nameof(SteelNoted.Source))]
    public async Task What_cannot_be_is_refused_by_its_name(double hrc, double chromium, string source, string field)
    {
        VisitTag visit = await Visit();

        FieldProblem problem = Assert.Single(await Refused(db => Log.AddAsync(db, Steel(visit.VisitId, hrc, source, chromium))));

        Assert.Equal(field, problem.Field);
    }

    private SteelNoted Steel(long visit, double hrc, string source = "data sheet", double chromium = 6, long? corrects = null) => new()
    {
        VisitId = visit, HardnessHrc = hrc, Source = source, ChromiumCarbidePercent = chromium, CorrectsId = corrects, HappenedAt = Clock.Now(), EnteredAt = Clock.Now(),
    };

    private async Task<(double Hrc, string Source)?> NowAsync(VisitTag tag) =>
        (await Get<BenchVisitQuery>().ByTagAsync(tag.Tag))?.Steel is { } steel ? (steel.HardnessHrc, steel.Source) : null;
}
