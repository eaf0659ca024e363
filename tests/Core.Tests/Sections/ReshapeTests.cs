using CsCheck;
using MathNet.Numerics.Integration;
using NetTopologySuite.Geometries;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using static Whetwright.Core.Tests.Sections.Sectioning;

namespace Whetwright.Core.Tests.Sections;

/// <summary>
/// Profile repair. Areas are checked against NetTopologySuite's difference of the whole outlines; volumes by hand or MathNet's quadrature.
/// The repairs themselves are common practice, no source.
/// </summary>
public sealed class ReshapeTests
{
    /// <summary>200 mm long, 45 high, flat for 120 and then a belly; the point is gone at 190. Invented.</summary>
    private static Point2[] Edge(double to = 190) => [.. Enumerable.Range(0, 96).Select(i => i * 2.0).Where(x => x <= to).Select(x => new Point2(x, Belly(x)))];

    private static double Belly(double x) => x <= 120 ? 0 : -22.5 * Math.Pow((x - 120) / 80, 2);

    private static ReshapeInput Input(ProfileRepair repair) => new(repair, Edge(), 45) { BehindEdgeMm = 0.4, SpineThicknessMm = 2 };

    private static ReshapeResult Repaired(ReshapeInput input) => Assert.IsType<ReshapeOutcome.Repaired>(Reshape.Evaluate(input)).Result;

    private static Reason Refusal(ReshapeInput input) => Assert.Single(Assert.IsType<ReshapeOutcome.Refused>(Reshape.Evaluate(input)).Reasons);

    public static TheoryData<ReshapeInput> Repairs =>
    [
        Input(ProfileRepair.BrokenTipFromSpine),
        Input(ProfileRepair.BrokenTipFromSpine) with { SpineMm = [new(0, -45), new(100, -45), new(180, -40)] },
        Input(ProfileRepair.BrokenTipFromSpine) with { SpineMm = [new(0, -45), new(100, -45), new(196, -40)] },
        Input(ProfileRepair.BrokenTipFromEdge),
        Input(ProfileRepair.BrokenTipFromEdge) with { AtMm = 130, SpineMm = [new(0, -45), new(100, -45), new(196, -40)] },
        Input(ProfileRepair.BrokenTipFromEdge) with { SpineMm = [new(0, -45), new(100, -45), new(180, -40)] },
        Input(ProfileRepair.FullBolster) with { AtMm = 15 },
        Input(ProfileRepair.ChipRunOut) with { ChipAtMm = 60, ChipDepthMm = 1.2 },
        Input(ProfileRepair.ChipRunOut) with { ChipAtMm = 160, ChipDepthMm = 3 },
        WithRoundedHeel() with { AtMm = 60 },
        WithDip(1.0, 40, 25),
        WithDip(0.3, 90, 60),
    ];

    [Theory]
    [MemberData(nameof(Repairs))]
    public void A_repair_only_takes_away_and_its_area_is_that_between_the_outlines(ReshapeInput input)
    {
        ReshapeResult result = Repaired(input);

        IReadOnlyList<Point2> spine = input.SpineMm ?? [new(0, input.EdgeMm[0].Y - 45), new(190, input.EdgeMm[0].Y - 45)];
        Geometry before = AsPolygon([.. input.EdgeMm, .. spine.Reverse()]).Buffer(0);
        Geometry after = AsPolygon([.. result.EdgeMm, .. result.SpineMm.Reverse()]).Buffer(0);
        Assert.True(result.RemovedMm2 > 0);
        Assert.Equal(before.Difference(after).Area, result.RemovedMm2, 1e-6 * before.Area);
        Assert.Equal(0, after.Difference(before).Area, 1e-6);
        Assert.InRange(result.RemovedMm3, result.RemovedMm2 * 0.4, result.RemovedMm2 * 2);
        Assert.True(result.Gaps.All(gap => gap.GapMm >= 0));
        Assert.True(result.MinutesFrom > 0 && result.MinutesFrom <= result.MinutesTo);
    }

    [Fact]
    public void A_tip_brought_down_from_the_spine_leaves_the_edge_alone()
    {
        ReshapeResult result = Repaired(Input(ProfileRepair.BrokenTipFromSpine));

        Assert.Equal(0, result.WorstGapMm, 1e-12);
        Assert.Equal(Belly(190), result.SpineMm[^1].Y, 1e-9);
        Assert.Equal(Edge().Length, result.EdgeMm.Count);
    }

    [Fact]
    public void A_tip_swept_up_from_the_edge_reaches_the_spine_and_leaves_the_spine_alone()
    {
        ReshapeResult result = Repaired(Input(ProfileRepair.BrokenTipFromEdge) with { AtMm = 140 });

        Assert.Equal(-45, result.EdgeMm[^1].Y, 1e-9);
        Assert.All(result.Gaps.Where(gap => gap.AtMm <= 140), gap => Assert.Equal(0, gap.GapMm, 1e-9));
        Assert.True(result.WorstGapMm > 1);
        Assert.All(result.SpineMm, p => Assert.Equal(-45, p.Y, 1e-9));
    }

    [Fact]
    public void A_full_bolster_is_ground_back_under_the_edge_line_to_its_clearance()
    {
        ReshapeResult result = Repaired(Input(ProfileRepair.FullBolster) with { AtMm = 15, BolsterClearanceMm = 1, BolsterThicknessMm = 12 });

        Assert.Equal(-1, result.EdgeMm[0].Y, 1e-9);
        // Level for 14 mm, then a ramp of 1 mm: 14.5 mm², 12 mm thick.
        Assert.Equal(14.5, result.RemovedMm2, 1e-9);
        Assert.Equal(174, result.RemovedMm3, 1e-9);
    }

    [Fact]
    public void An_over_ground_heel_becomes_a_straight_run()
    {
        ReshapeResult result = Repaired(WithRoundedHeel() with { AtMm = 60 });

        Point2 heel = result.EdgeMm[0];
        foreach (Point2 p in result.EdgeMm.Where(p => p.X <= 60))
            Assert.Equal(heel.Y * (1 - (p.X / 60)), p.Y, 1e-9);
        Assert.All(result.Gaps.Where(gap => gap.AtMm > 61), gap => Assert.Equal(0, gap.GapMm, 1e-9));
    }

    [Theory]
    [InlineData(1.0, 40, 25)]
    [InlineData(0.3, 90, 60)]
    [InlineData(0.05, 60, 30)]
    public void A_gap_to_the_board_is_gone_and_a_place_in_it_is_left_as_it_was(double depth, double at, double width)
    {
        ReshapeInput input = WithDip(depth, at, width);

        ReshapeResult result = Repaired(input);

        Assert.Equal(0, HullGap(result.EdgeMm), 1e-5);
        Assert.Contains(result.Gaps, gap => gap.GapMm < 1e-6 && Math.Abs(gap.AtMm - at) < width / 2);
        Assert.True(result.WorstGapMm <= depth * 3);
    }

    [Fact]
    public void Closing_a_gap_takes_no_more_than_any_other_straight_line_that_closes_it()
    {
        ReshapeInput input = WithDip(0.5, 50, 30);
        ReshapeResult result = Repaired(input);

        Point2[] edge = [.. input.EdgeMm];
        for (int k = -60; k <= 60; k++)
        {
            double slope = k * 0.0005;
            double intercept = edge.Where(p => Math.Abs(p.X - 50) <= 15).Min(p => p.Y - (slope * p.X));
            double area = 0;
            for (int i = 1; i < edge.Length; i++)
                area += Trapezoid(Over(edge[i - 1]), Over(edge[i]), edge[i].X - edge[i - 1].X);
            Assert.True(result.RemovedMm2 <= area + 1e-3, $"slope {slope} takes {area}, ours {result.RemovedMm2}");
            double Over(Point2 p) => p.Y - (intercept + (slope * p.X));
        }

        static double Trapezoid(double a, double b, double width) => a >= 0 && b >= 0
            ? (a + b) / 2 * width
            : a <= 0 && b <= 0 ? 0 : Math.Pow(Math.Max(a, b), 2) / (Math.Max(a, b) - Math.Min(a, b)) / 2 * width;
    }

    [Fact]
    public void A_chip_is_run_out_to_its_root_square_to_the_edge_over_the_whole_edge()
    {
        ReshapeResult result = Repaired(Input(ProfileRepair.ChipRunOut) with { ChipAtMm = 60, ChipDepthMm = 1.2 });

        Assert.All(result.Gaps.Where(gap => gap.AtMm < 110), gap => Assert.Equal(1.22, gap.GapMm, 1e-9));
        // Volume of the flat run by hand, per mm: 0.4 · 1.22 + 1.6 · 1.22² / (2 · 45).
        double perMm = (0.4 * 1.22) + (1.6 * 1.22 * 1.22 / 90);
        Assert.InRange(result.RemovedMm3, perMm * 190, perMm * 190 * 1.05);
        ReshapeResult atTheBelly = Repaired(Input(ProfileRepair.ChipRunOut) with { ChipAtMm = 171, ChipDepthMm = 1.2 });
        Assert.True(atTheBelly.Gaps.Single(gap => gap.AtMm == 170).GapMm >= 1.2);
    }

    [Fact]
    public void Steel_is_counted_by_the_thickness_at_its_depth()
    {
        // A rectangle 100 × 40, run out by exactly 4 mm: ∫0..4 (0.4 + 1.6 d / 40) dd · 100.
        var input = new ReshapeInput(ProfileRepair.ChipRunOut, [new(0, 0), new(100, 0)], 40)
        {
            BehindEdgeMm = 0.4, SpineThicknessMm = 2, ChipAtMm = 50, ChipDepthMm = 4 - SectionDefaults.ChipMarginMm,
        };

        Assert.Equal(GaussLegendreRule.Integrate(d => (0.4 + (1.6 * d / 40)) * 100, 0, 4, 8), Repaired(input).RemovedMm3, 1e-9);
    }

    [Fact]
    public void The_time_is_an_interval_that_calls_itself_a_guess_until_the_shop_gives_its_rate()
    {
        ReshapeInput input = Input(ProfileRepair.FullBolster) with { AtMm = 15 };

        ReshapeResult guessed = Repaired(input), known = Repaired(input with { RemovalMm3PerMinute = 50 });

        Assert.Contains(guessed.Notes, note => note.Code == "time-is-a-guess");
        Assert.True(guessed.MinutesTo > 5 * guessed.MinutesFrom);
        Assert.DoesNotContain(known.Notes, note => note.Code == "time-is-a-guess");
        Assert.Equal(known.RemovedMm3 / 50, known.MinutesFrom, 1e-12);
        Assert.Equal(known.MinutesFrom, known.MinutesTo);
        Assert.Equal(known.MinutesTo, ReshapeExplanation.Explain(input, known)[^1].Value);
    }

    [Fact]
    public void Deeper_dips_cost_more() => (from depth in Gen.Double[0.05, 1] from at in Gen.Double[30, 90] select (depth, at)).Sample(c =>
        Assert.True(Repaired(WithDip(c.depth * 1.3, c.at, 40)).RemovedMm2 > Repaired(WithDip(c.depth, c.at, 40)).RemovedMm2), iter: 30);

    [Fact]
    public void What_is_no_outline_is_refused()
    {
        Assert.Equal("empty-outline", Refusal(Input(ProfileRepair.BoardGap) with { EdgeMm = [] }).Code);
        Assert.Equal("empty-outline", Refusal(Input(ProfileRepair.BoardGap) with { EdgeMm = [new(0, 0)] }).Code);
        Assert.Equal("self-crossing", Refusal(Input(ProfileRepair.BoardGap) with { EdgeMm = [new(0, 0), new(100, 0), new(40, 10), new(60, -10), new(150, 0)] }).Code);
        Assert.Equal("not-heel-to-tip", Refusal(Input(ProfileRepair.BoardGap) with { EdgeMm = [new(0, 0), new(60, 1), new(50, 2), new(100, 3)] }).Code);
        Assert.Equal("edge-above-spine", Refusal(Input(ProfileRepair.BoardGap) with { EdgeMm = [new(0, 0), new(100, -10)], SpineMm = [new(0, 5), new(100, 4)] }).Code);
    }

    [Fact]
    public void A_repair_that_lacks_its_place_or_leaves_no_blade_is_refused()
    {
        Assert.Equal("place-missing", Refusal(Input(ProfileRepair.FullBolster)).Code);
        Assert.Equal("place-missing", Refusal(Input(ProfileRepair.OverGroundHeel)).Code);
        Assert.Equal("chip-missing", Refusal(Input(ProfileRepair.ChipRunOut)).Code);
        Assert.Equal("off-the-blade", Refusal(Input(ProfileRepair.FullBolster) with { AtMm = 500 }).Code);
        Assert.Equal("off-the-blade", Refusal(Input(ProfileRepair.ChipRunOut) with { ChipAtMm = -3, ChipDepthMm = 1 }).Code);
        Assert.Equal("deeper-than-blade", Refusal(Input(ProfileRepair.ChipRunOut) with { ChipAtMm = 60, ChipDepthMm = 45 }).Code);
        Assert.Equal("no-gap", Refusal(Input(ProfileRepair.BoardGap)).Code);
    }

    [Fact]
    public void A_value_that_is_none_is_refused_by_the_name_of_its_field()
    {
        Assert.Equal("heightMm", Field(Input(ProfileRepair.BoardGap) with { HeightMm = double.NaN }));
        Assert.Equal("edgeMm", Field(Input(ProfileRepair.BoardGap) with { EdgeMm = [new(0, 0), new(double.NaN, 0)] }));
        Assert.Equal("chipDepthMm", Field(Input(ProfileRepair.ChipRunOut) with { ChipDepthMm = -1 }));
        Assert.Equal("removalMm3PerMinute", Field(Input(ProfileRepair.ChipRunOut) with { RemovalMm3PerMinute = 0 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Reshape.Evaluate(Input((ProfileRepair)99)));

        static string? Field(ReshapeInput input) => Assert.Throws<ArgumentOutOfRangeException>(() => Reshape.Evaluate(input)).ParamName;
    }

    private static ReshapeInput WithRoundedHeel() => Input(ProfileRepair.OverGroundHeel) with
    {
        EdgeMm = [.. Edge().Select(p => p.X < 40 ? new Point2(p.X, -1.5 * Math.Pow(1 - (p.X / 40), 2)) : p)],
    };

    private static ReshapeInput WithDip(double depth, double at, double width) => Input(ProfileRepair.BoardGap) with
    {
        EdgeMm = [.. Edge().Select(p => Math.Abs(p.X - at) < width / 2 ? new Point2(p.X, p.Y - (depth * Math.Pow(Math.Cos(Math.PI * (p.X - at) / width), 2))) : p)],
    };

    /// <summary>Deepest place under the convex hull that a polygon library finds.</summary>
    private static double HullGap(IReadOnlyList<Point2> edge)
    {
        LineString line = new([.. edge.Select(p => new Coordinate(p.X, p.Y))]);
        List<Coordinate> ring = [.. edge.Select(p => new Coordinate(p.X, p.Y)), new(edge[^1].X, -100), new(edge[0].X, -100), new(edge[0].X, edge[0].Y)];
        Polygon body = new GeometryFactory().CreatePolygon([.. ring]);
        Geometry boundary = body.ConvexHull().Boundary;
        return line.Coordinates.Max(c => boundary.Distance(new Point(c)));
    }
}
