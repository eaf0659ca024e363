using CsCheck;
using MathNet.Numerics.Integration;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using static Whetwright.Core.Tests.Sections.Sectioning;

namespace Whetwright.Core.Tests.Sections;

/// <summary>
/// Hollow and convex facets. Sagitta examples: any geometry text; r 10, chord 12 → 2 and r 15, chord 20 → 3.82 as printed on a secondary page.
/// Areas against MathNet's quadrature of circles written out here.
/// </summary>
public sealed class CurvedFacetTests
{
    [Theory]
    [InlineData(10, 12, 2, 1e-12)]
    [InlineData(15, 20, 3.82, 0.005)]
    [InlineData(125, 3, 0.00900032402333295, 1e-14)]
    [InlineData(100, 5, 0.03125488433897772, 1e-14)]
    public void The_depth_of_a_hollow_is_the_sagitta(double radius, double chord, double sagitta, double tolerance) =>
        Assert.Equal(sagitta, SectionFormulas.SagittaMm(radius, chord), tolerance);

    [Fact]
    public void The_area_under_a_chord_is_the_circular_segment()
    {
        // Semicircle of radius 2: chord 4, area 2π.
        Assert.Equal(2 * Math.PI, SectionFormulas.SegmentAreaMm2(2, 4), 1e-12);
    }

    [Theory]
    [InlineData(125.0)]
    [InlineData(25.0)]
    [InlineData(-200.0)]
    public void A_curved_facet_takes_what_its_circle_takes(double radius)
    {
        SectionInput input = Knife(old: 18, made: 14, behind: 0.6) with { RecessionMm = 0.1, NewRadiusMm = radius };

        SectionResult result = Compute(input);

        double shoulder = 0.3 / Math.Tan(Rad(18)), flank = Math.Tan(Rad(2));
        double Old(double y) => y < shoulder ? y * Math.Tan(Rad(18)) : 0.3 + ((y - shoulder) * flank);
        // The circle through (0, r) that leaves it at 14°: centre off by R along the facet's normal.
        double cx = radius * Math.Cos(Rad(14)), cy = 0.1 - (radius * Math.Sin(Rad(14)));
        double New(double y) => y < 0.1 ? 0 : cx - (Math.Sign(radius) * Math.Sqrt((radius * radius) - ((y - cy) * (y - cy))));
        double Cut(double y) => Math.Max(0, Old(y) - New(y));
        double area = Enumerable.Range(0, 4000).Sum(i => GaussLegendreRule.Integrate(Cut, i / 1000.0, (i + 1) / 1000.0, 3));
        Assert.Equal(area, result.Right.RemovedMm2, 1e-7);
        Assert.Equal(Old(result.Right.ShoulderMm), New(result.Right.ShoulderMm), 1e-10);
        Assert.Equal(result.Right.RemovedMm2, result.Outline.RemovedRight.Sum(p => AsPolygon(p).Area), 2e-4);
    }

    [Fact]
    public void Across_a_hollow_facet_the_angle_grows_by_twice_asin_w_over_2R()
    {
        SectionSide side = Compute(Knife(old: 18, made: 14, behind: 0.6) with { RecessionMm = 0.1, NewRadiusMm = 50 }).Left;

        double half = double.RadiansToDegrees(Math.Asin(side.FacetWidthMm / 100));
        Assert.Equal(14 + (2 * half), side.ShoulderDeg, 1e-9);
        Assert.Equal(14 + half, side.ChordDeg, 1e-9);
        Assert.Equal(SectionFormulas.SagittaMm(50, side.FacetWidthMm), side.SagittaMm, 1e-12);
    }

    [Fact]
    public void A_very_large_wheel_grinds_flat()
    {
        SectionInput input = Knife(old: 17, made: 13) with { RecessionMm = 0.08 };

        SectionResult flat = Compute(input), wheel = Compute(input with { NewRadiusMm = 1e7 });

        Assert.Equal(flat.Left.RemovedMm2, wheel.Left.RemovedMm2, 1e-6);
        Assert.Equal(flat.Left.FacetWidthMm, wheel.Left.FacetWidthMm, 1e-5);
    }

    [Fact]
    public void The_same_wheel_at_the_same_angle_takes_nothing_off_a_keen_hollow_edge()
    {
        SectionResult result = Compute(Knife() with { OldRadiusMm = 100, NewRadiusMm = 100 });

        Assert.Equal(0, result.RemovedMm3, 1e-15);
    }

    [Fact]
    public void A_flat_stone_on_a_hollow_facet_touches_both_ends_and_says_so()
    {
        SectionInput input = Knife(old: 15, made: 16, behind: 1.2) with { OldRadiusMm = 40, RecessionMm = 0.02 };

        SectionResult result = Compute(input);

        Assert.Contains(result.Notes, note => note.Code == "cuts-in-strips");
        Assert.Equal(2, result.Outline.RemovedLeft.Count);
    }

    [Fact]
    public void Curved_removal_is_never_negative_and_the_drawing_adds_up() =>
        (from old in Gen.Double[10, 22]
         from made in Gen.Double[10, 22]
         from oldRadius in Gen.Int[0, 4].Select(i => new double?[] { null, 60, 125, -40, -150 }[i])
         from newRadius in Gen.Int[0, 3].Select(i => new double?[] { null, 60, 125, -150 }[i])
         from recession in Gen.Double[0, 0.6]
         select Knife(old, made, 0.5, 1.5) with { OldRadiusMm = oldRadius, NewRadiusMm = newRadius, RecessionMm = recession }).Sample(input =>
    {
        SectionResult result = Compute(input);

        Assert.True(result.Left.RemovedMm2 >= 0);
        Assert.Equal(result.Left.RemovedMm2, result.Right.RemovedMm2, 1e-12);
        double before = AsPolygon(result.Outline.Before).Area, after = AsPolygon(result.Outline.After).Area;
        double removed = result.Outline.RemovedLeft.Concat(result.Outline.RemovedRight).Sum(p => AsPolygon(p).Area);
        Assert.Equal(before - after, removed, 1e-3);
        Assert.Equal(result.Left.RemovedMm2 * 2, removed, 1e-3);
    }, iter: 300);

    private static double Rad(double degrees) => double.DegreesToRadians(degrees);
}
