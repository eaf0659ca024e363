using Whetwright.Core.Blades;
using Whetwright.Core.Sections;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Bench;
using Whetwright.Records.Pieces;
using Whetwright.Records.Standing;

namespace Whetwright.Workbench.Tests;

/// <summary>Thinner and stronger beside what was found, and what the piece's own history says of each.</summary>
public sealed class Advised_edges
{
    private static readonly DateTime When = new(2026, 3, 2, 10, 0, 0, DateTimeKind.Utc);
    private static readonly Blade Knife = ((FormatOutcome<Blade>.Read)BladeFormat.Read(Samples.Text("kitchen-knife", "blade.json"))).Value;
    private static readonly Piece Row = new() { Name = "sample", Kind = PieceKind.DoubleBevel, LengthMm = 210 };

    [Fact]
    public void Thinner_and_stronger_turn_both_sides_by_two_degrees_and_none_thinner_than_eight_is_offered()
    {
        IReadOnlyList<Candidate> cards = AdvisedCandidates.For(Knife, new(17, 17.5), null, [], Row, 0, 0.5);
        IReadOnlyList<Candidate> steep = AdvisedCandidates.For(Knife, new(9, 9), null, [], Row, 0, 0.5);

        Assert.Equal("Found Thinner Stronger", string.Join(' ', cards.Select(c => c.Source)));
        Assert.Equal((15.0, 15.5), (cards[1].Angles.LeftDeg, cards[1].Angles.RightDeg));
        Assert.Equal((19.0, 19.5), (cards[2].Angles.LeftDeg, cards[2].Angles.RightDeg));
        Assert.DoesNotContain(steep, c => c.Source == TargetSource.Thinner);
    }

    [Fact]
    public void Chips_and_complaints_at_an_angle_are_told_where_that_angle_is_chosen_again()
    {
        EdgeBefore[] history =
        [
            new(3, When, 15, 15, false, null, "dull again after a week"),
            new(2, When.AddDays(-90), 15, 15.2, true, 0.4, null),
            new(1, When.AddDays(-180), 15.3, 15, true, null, null),
        ];
        IReadOnlyList<Candidate> cards = AdvisedCandidates.For(Knife, new(17, 17), null, [], Row, 0, 0.5);

        string thinner = Said(cards.Single(c => c.Source == TargetSource.Thinner), history), stronger = Said(cards.Single(c => c.Source == TargetSource.Stronger), history);

        Assert.Contains("chipped 1 of 2 times", thinner, StringComparison.Ordinal);
        Assert.Contains("“dull again after a week”", thinner, StringComparison.Ordinal);
        Assert.Contains("not ground at about this angle before", stronger, StringComparison.Ordinal);
        Assert.Contains("at which it chipped (2025-12-02)", stronger, StringComparison.Ordinal);
    }

    [Fact]
    public void A_flatter_edge_hears_that_a_stronger_one_chipped_already()
    {
        Candidate flat = Candidates.Weigh(Knife, new(17, 17), new(12, 12), TargetSource.Own, "own", 0.5, null, 0);

        Assert.Contains("Even at 15°, steeper than this", Said(flat, [new(1, When, 15, 15, true, 0.3, null)]), StringComparison.Ordinal);
    }

    /// <summary>The printed examples of the card-cut fit ([thomas2019]) are checked with the fit itself; here only that a flatter edge of a known steel is said to cut longer, and none is said without steel.</summary>
    [Fact]
    public void Life_is_told_only_where_the_steel_is_given()
    {
        Candidate Thinner(SteelData? steel) => AdvisedCandidates.For(Knife, new(17, 17), null, [], Row, 0, 0.5, steel).Single(c => c.Source == TargetSource.Thinner);

        Assert.Null(Thinner(null).Ratios!.Life);
        Assert.True(Thinner(new SteelData(60) { ChromiumCarbidePercent = 6 }).Ratios!.Life > 1.1);
    }

    /// <summary>By hand, each coefficient of [thomas2019] once: −157 + 15.8·60 − 17.8·30 + 5.0·1 + 11.2·2 + 14.6·3 + 26.2·4 + 9.5·5 + 20.9·6 + 19.4·7 = 741.7 mm.</summary>
    [Fact]
    public void A_steel_noted_goes_into_the_fit_value_by_value()
    {
        SteelNoted noted = new()
        {
            Source = "data sheet", HappenedAt = When, EnteredAt = When, HardnessHrc = 60, CementitePercent = 1, ChromiumCarbidePercent = 2, ChromiumVanadiumCarbidePercent = 3, VanadiumCarbidePercent = 4,
            TungstenCarbidePercent = 5, VanadiumNitridePercent = 6, ChromiumNitridePercent = 7,
        };

        Assert.Equal(741.7, CardCutRegression.TotalCardCutMm(SteelOnBench.Of(noted)!, 30), 1e-9);
        Assert.Null(SteelOnBench.Of(null));
    }

    private static string Said(Candidate card, IReadOnlyList<EdgeBefore> history) => string.Join('\n', AdvisedCandidates.Reasons(card, new(17, 17), history).Select(r => r.Text));
}
