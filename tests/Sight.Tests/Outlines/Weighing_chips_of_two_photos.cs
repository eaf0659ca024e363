using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Places along a straight edge of a drawn line; what each photo says of them is told here, and what both say together is checked.</summary>
public sealed class Weighing_chips_of_two_photos
{
    private const double LengthMm = 80;

    [Fact]
    public void What_is_doubtful_in_each_is_sure_in_both()
    {
        SeenChip chip = Assert.Single(Weigh([At(40, -0.4)], [At(40.6, -0.3)]));
        Assert.True(Told(chip));
        Assert.Equal(40, chip.AtMm, 1e-9);
    }

    [Fact]
    public void What_one_photo_shows_and_the_other_does_not_is_told_only_where_it_is_plain()
    {
        Assert.False(Told(Assert.Single(Weigh([At(40, 0.3)], []))));
        Assert.False(Told(Assert.Single(Weigh([], [At(40, 0.3)]))));
        Assert.False(Told(Assert.Single(Weigh([At(40, 0.6)], [])))); // two to one, and no trace in the other
        Assert.True(Told(Assert.Single(Weigh([At(40, 3)], []))));
    }

    [Fact]
    public void What_only_the_second_photo_shows_plainly_is_told_at_its_place_on_the_first()
    {
        // The second photo's line begins 2 mm further along.
        SeenChip chip = Assert.Single(Weigh([], [At(40, 3)], secondFromMm: 2));
        Assert.True(Told(chip));
        Assert.Equal(42, chip.AtMm, 1e-9);
    }

    [Fact]
    public void What_looks_like_a_chip_in_the_first_and_like_a_stain_in_the_second_is_none() =>
        Assert.False(Told(Assert.Single(Weigh([At(40, 0.2)], [At(40, -6)]))));

    [Fact]
    public void Of_the_places_near_by_the_likeliest_is_the_same_chip()
    {
        // A stain 0.2 mm off in the second photo, the chip itself 1.2 mm off.
        IReadOnlyList<SeenChip> chips = Weigh([At(40, 0)], [At(40.2, -6), At(41.2, 0)]);
        Assert.Equal(40, Assert.Single(chips, Told).AtMm, 1e-9);
    }

    [Fact]
    public void A_wide_chips_middle_may_lie_further_off() =>
        Assert.Single(Weigh([At(40, 0) with { Shape = new(2.2, 5.5, false) }], [At(42, 0)])); // neither plain, so that nothing is moved first

    [Fact]
    public void Two_places_further_apart_than_a_place_is_known_are_two() =>
        Assert.Equal(2, Weigh([At(40, 0)], [At(43, 0)]).Count);

    [Fact]
    public void Chips_that_a_wrong_height_moves_alike_are_the_same_chips()
    {
        // Two plain ones and one that is plain in the second photo only, all 2 mm further along there.
        IReadOnlyList<SeenChip> chips = Weigh([At(20, 4), At(40, -0.5), At(60, 4)], [At(20, 4), At(40, 3), At(60, 4)], secondFromMm: 2);
        Assert.Equal([20, 40, 60], chips.Where(Told).Select(c => c.AtMm));
    }

    [Fact]
    public void Depth_and_width_are_the_mean_of_both_and_better_known_than_from_one()
    {
        SeenChip chip = Assert.Single(Weigh([At(40, 2) with { Shape = new(1.0, 2.0, true) }], [At(40, 1) with { Shape = new(1.4, 3.0, false) }]));
        Assert.Equal(new NotchShape(1.2, 2.5, true), chip.Shape);
        Assert.InRange(chip.DepthUMm, 0.15, 0.29);
    }

    [Fact]
    public void A_deep_chip_or_one_of_a_doubtful_line_is_known_less_well()
    {
        Assert.True(ChipSize.DepthUMm(2.5, 0) > ChipSize.DepthUMm(0.6, 0));
        Assert.Equal(0.5, ChipSize.DepthUMm(1.0, Math.Sqrt(0.25 - (0.28 * 0.28))), 1e-9);
    }

    [Theory]
    [InlineData(0.4)]
    [InlineData(-2)]
    [InlineData(LengthMm - 1)]
    public void Beyond_heel_and_tip_as_both_photos_show_them_and_close_to_them_there_is_no_chip(double at)
    {
        Assert.Empty(Weigh([At(at, 4)], []));
        Assert.Empty(Weigh([], [At(at, 4)]));
    }

    private static bool Told(SeenChip chip) => chip.LogOdds >= ChipFinder.LeastLogOdds;

    private static SeenChip At(double mm, double logOdds) => new(mm, new(0.8, 1.6, false), logOdds, 0.3);

    private static IReadOnlyList<SeenChip> Weigh(SeenChip[] first, SeenChip[] second, double secondFromMm = 0) => ChipsOfTwo.Weigh(
        first, [.. first.Select(c => new Point2(c.AtMm, 0))], second, [.. second.Select(c => new Point2(c.AtMm + secondFromMm, 0))], place => place.X, LengthMm);
}
