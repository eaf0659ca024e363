using Whetwright.Core.Abrasives;

namespace Whetwright.Core.Tests.Abrasives;

/// <summary>Grades by their published medians. Sources: ISO 6344, ISO 8486 (from memory), JIS R 6001:1987, ANSI B74.18, read in secondary pages ([abrasive-grades]).</summary>
public sealed class GradesTests
{
    [Theory]
    [InlineData(GradeSystem.FepaP, "P240", 58.5, 2.0)]
    [InlineData(GradeSystem.FepaP, "1200", 15.3, 1.0)]
    [InlineData(GradeSystem.FepaF, "F600", 9.3, 1.0)]
    [InlineData(GradeSystem.Jis, "#1000", 11.5, 1.0)]
    [InlineData(GradeSystem.Jis, "8000", 1.2, 0.3)]
    [InlineData(GradeSystem.Cami, "600", 16.0, null)]
    public void A_marked_grade_has_its_published_median(GradeSystem system, string marked, double d50, double? tolerance)
    {
        Grade grade = Grades.Find(system, marked)!;

        Assert.Equal(d50, grade.D50Um);
        Assert.Equal(tolerance, grade.ToleranceUm);
    }

    [Theory]
    [InlineData(GradeSystem.FepaP, "1001")]
    [InlineData(GradeSystem.Micrometres, "0")]
    [InlineData(GradeSystem.Micrometres, "fine")]
    public void A_grade_that_no_standard_has_is_not_found(GradeSystem system, string marked) => Assert.Null(Grades.Find(system, marked));

    [Fact]
    public void A_compound_is_rated_in_micrometres_with_comma_or_point()
    {
        Assert.Equal(0.5, Grades.Find(GradeSystem.Micrometres, "0,5 µm")!.D50Um);
        Assert.Equal(3, Grades.Find(GradeSystem.Micrometres, "3")!.D50Um);
    }

    [Fact]
    public void Every_system_runs_from_coarse_to_fine_without_a_step_back()
    {
        foreach (GradeSystem system in (GradeSystem[])[GradeSystem.FepaF, GradeSystem.FepaP, GradeSystem.Jis, GradeSystem.Cami])
        {
            double[] medians = [.. Grades.Of(system).Select(g => g.D50Um)];
            Assert.True(medians.Length > 15);
            Assert.Equal(medians.OrderDescending(), medians);
        }
    }

    [Fact]
    public void The_same_number_means_different_grains_in_different_standards()
    {
        // 1000: P1000 18.3 µm, F1000 4.5 µm, #1000 11.5 µm, CAMI 1000 10.3 µm.
        double[] thousand = [.. ((GradeSystem[])[GradeSystem.FepaP, GradeSystem.FepaF, GradeSystem.Jis, GradeSystem.Cami]).Select(s => Grades.Find(s, "1000")!.D50Um)];

        Assert.Equal([18.3, 4.5, 11.5, 10.3], thousand);
        Assert.Equal("P1500", Grades.Nearest(11.5, GradeSystem.FepaP).Grade.Name);
    }

    [Fact]
    public void A_grade_without_a_tolerance_spreads_half_way_to_its_neighbours()
    {
        // P120 125 µm between P100 162 µm and P150 100 µm: √(125·100) = 111.8, √(125·162) = 142.3.
        (double from, double to) = Grades.Find(GradeSystem.FepaP, "P120")!.Spread;

        Assert.Equal(111.8, from, 0.05);
        Assert.Equal(142.3, to, 0.05);
    }
}
