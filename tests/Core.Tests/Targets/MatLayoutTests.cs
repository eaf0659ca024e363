using Whetwright.Core.Targets;

namespace Whetwright.Core.Tests.Targets;

/// <summary>Our own mat, of one to three sheets.</summary>
public sealed class MatLayoutTests
{
    public static TheoryData<string, int> Mats => new() { { "a4", 1 }, { "a4", 2 }, { "a4", 3 }, { "a3", 2 }, { "letter", 3 }, { "tabloid", 1 } };

    [Theory]
    [MemberData(nameof(Mats))]
    public void Ids_are_unique_over_all_sheets_and_none_is_a_targets(string paper, int sheets)
    {
        MatLayout mat = MatLayout.For(KnownPaperSizes.Named(paper), sheets);

        int[] ids = [.. mat.Sheet.Fiducials.Select(f => f.Id)];

        Assert.Equal(10 * sheets, ids.Distinct().Count());
        Assert.All(ids, id => Assert.InRange(id, 12, KnownFiducials.Count - 1));
    }

    [Theory]
    [MemberData(nameof(Mats))]
    public void No_fiducial_with_its_quiet_margin_reaches_another_the_field_or_a_join(string paper, int sheets)
    {
        MatLayout mat = MatLayout.For(KnownPaperSizes.Named(paper), sheets);
        SheetRectangle[] quiet = [.. mat.Sheet.Fiducials.Select(f => new SheetRectangle(f.LeftMm - f.ModuleMm, f.TopMm - f.ModuleMm, f.RightMm + f.ModuleMm, f.BottomMm + f.ModuleMm))];

        for (int i = 0; i < quiet.Length; i++)
        {
            Assert.False(quiet[i].Overlaps(mat.FieldMm));
            Assert.All(quiet[(i + 1)..], other => Assert.False(quiet[i].Overlaps(other)));
            for (int join = 1; join < sheets; join++)
            {
                double x = (join * mat.PitchMm) + MatLayout.JoinMm;
                Assert.False(quiet[i].LeftMm < x && quiet[i].RightMm > x);
            }
        }
    }

    [Fact]
    public void The_joint_frame_is_each_sheets_own_frame_shifted_by_what_the_join_leaves()
    {
        // Worked by hand: A4 is 297 mm; 12 mm are hidden on either side of a join: the second sheet's origin lies at 297 − 24 = 273 mm.
        MatLayout mat = MatLayout.For(KnownPaperSizes.A4, 2);

        Assert.Equal(273, mat.PitchMm, 1e-9);
        Assert.Equal(570, mat.Sheet.SizeMm.X, 1e-9);
        Assert.Equal(mat.Sheet.Fiducials[0].LeftMm, mat.FiducialsOf(1).First().LeftMm, 1e-9);
        Assert.Equal(mat.Sheet.Fiducials[0].LeftMm + 273, mat.Sheet.Fiducials[10].LeftMm, 1e-9);
    }

    [Fact]
    public void More_sheets_fit_longer_blades()
    {
        double[] longest = [.. Enumerable.Range(1, 3).Select(n => MatLayout.For(KnownPaperSizes.A4, n).LongestEdgeMm)];

        Assert.Equal([263, 536, 809], longest);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    public void A_number_of_sheets_that_the_codes_do_not_serve_is_refused(int sheets) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => MatLayout.For(KnownPaperSizes.A4, sheets));
}
