using Whetwright.Core.Metrology;
using Whetwright.Core.Metrology.Learning;

namespace Whetwright.Core.Tests.Metrology.Learning;

/// <summary>The service interval: days between visits of a piece, leaning on its kind.</summary>
public sealed class UsualAmountTests
{
    [Fact]
    public void Without_any_history_it_is_the_guess_and_says_so()
    {
        UsualAmount next = UsualAmounts.Learn([], AmountPrior.Days).Next("knife", "double-bevel");

        Assert.True(next.IsGuess);
        Assert.Equal(150, next.Median, 1e-9);
        Assert.InRange(next.From, 15, 40);
    }

    [Fact]
    public void A_long_history_speaks_for_itself_and_a_short_one_leans_on_its_kind()
    {
        AmountHistory[] shop =
        [
            .. Enumerable.Range(0, 20).Select(i => new AmountHistory($"other {i}", "double-bevel", [90, 100, 110])),
            new("often", "double-bevel", [.. Enumerable.Repeat(30.0, 12)]),
            new("once", "double-bevel", [30]),
        ];
        UsualAmounts usual = UsualAmounts.Learn(shop, AmountPrior.Days);

        UsualAmount often = usual.Next("often", "double-bevel"), once = usual.Next("once", "double-bevel"), never = usual.Next("new", "double-bevel");

        Assert.InRange(often.Median, 29, 36);
        Assert.InRange(once.Median, often.Median + 3, 90);
        Assert.InRange(never.Median, 80, 105);
        Assert.True(often.OwnShare > 0.9 && once.OwnShare < often.OwnShare && never.OwnShare == 0);
        Assert.True(often.To / often.From < never.To / never.From);
        Assert.InRange(usual.Next("plane", "plane-iron").Median, 149, 151);
    }

    [Fact]
    public void The_interval_holds_the_next_visit_as_often_as_it_says()
    {
        RandomDraws random = new(31);
        int inside = 0, all = 0;
        for (int shop = 0; shop < 60; shop++)
        {
            double kind = Math.Log(150) + (0.7 * random.Normal());
            (AmountHistory Seen, double Next)[] pieces =
            [
                .. Enumerable.Range(0, 25).Select(i =>
                {
                    double own = kind + (0.5 * random.Normal());
                    int visits = (int)(6 * random.Uniform());
                    return (new AmountHistory($"{i}", "knife", [.. Enumerable.Range(0, visits).Select(_ => Draw(own))]), Draw(own));
                }),
            ];
            UsualAmounts usual = UsualAmounts.Learn(pieces.Select(p => p.Seen), AmountPrior.Days);
            foreach ((AmountHistory seen, double next) in pieces)
            {
                UsualAmount told = usual.Next(seen.Thing, "knife");
                inside += next >= told.From && next <= told.To ? 1 : 0;
                all++;
            }

            double Draw(double own) => Math.Exp(own + (0.35 * random.Normal()));
        }

        Assert.InRange(inside / (double)all, 0.93, 0.97);
    }

    [Fact]
    public void With_known_scatters_it_is_the_textbook_s_shrinkage()
    {
        // One piece alone: prior mean ln 150 with variance 0.5² + 0.7², n values; scatter 0.35 stays where all values are equal but for 6 + n − 1 values' worth.
        AmountHistory one = new("knife", "double-bevel", [60, 60, 60, 60]);
        UsualAmounts usual = UsualAmounts.Learn([one], AmountPrior.Days);

        double within = 6 * 0.35 * 0.35 / 9, before = (0.5 * 0.5) + (0.7 * 0.7), share = before / (before + (within / 4));
        Assert.Equal(Math.Exp(Math.Log(150) + (share * Math.Log(60.0 / 150))), usual.Next("knife", "double-bevel").Median, 1e-9);
    }

    [Fact]
    public void An_amount_of_nothing_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => UsualAmounts.Learn([new("knife", "double-bevel", [0])], AmountPrior.Days));
}
