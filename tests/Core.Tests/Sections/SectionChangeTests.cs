using CsCheck;
using MathNet.Numerics;
using MathNet.Numerics.RootFinding;
using NetTopologySuite.Geometries;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using static Whetwright.Core.Tests.Sections.Sectioning;

namespace Whetwright.Core.Tests.Sections;

/// <summary>
/// What a change of section costs. Areas are checked against NetTopologySuite's clipping, recessions against MathNet's root finding;
/// the figure 0.056 mm for a land of 30 µm at 15° is v / (2 tan 15°) by hand: 0.030 / 0.5359.
/// </summary>
public sealed class SectionChangeTests
{
    private static readonly Gen<SectionInput> AnyKnife =
        from behind in Gen.Double[0.1, 1.5]
        from flank in Gen.Double[0, 6]
        from oldLeft in Gen.Double[8, 30]
        from oldRight in Gen.Double[8, 30]
        from newLeft in Gen.Double[8, 30]
        from newRight in Gen.Double[8, 30]
        from landPart in Gen.Double[0, 0.4]
        from recessionPart in Gen.Double[0, 2]
        select new SectionInput(behind, flank, new(oldLeft, oldRight), new(newLeft, newRight), 100)
        {
            LandMm = landPart * behind,
            RecessionMm = recessionPart * SectionFormulas.ShoulderHeightMm(behind, Rad(oldLeft), Rad(oldRight)),
        };

    [Fact]
    public void Even_at_its_own_angle_a_dull_edge_costs_steel()
    {
        SectionResult result = Compute(Knife() with { LandMm = 0.030 });

        Assert.Equal(0.056, result.RecessionMm, 0.001);
        Assert.Equal(0.030 / (2 * Math.Tan(Rad(15))) + SectionDefaults.BurrAllowanceMm, result.RecessionMm, 1e-12);
        Assert.Equal(RecessionCause.Land, result.Cause);
        Assert.True(result.Left.RemovedMm2 > 0);
        Assert.Equal(0, result.LandLeftMm);
    }

    [Fact]
    public void A_keen_edge_at_its_own_angle_loses_nothing_and_keeps_its_facet()
    {
        SectionResult result = Compute(Knife());

        Assert.Equal(0, result.RecessionMm);
        Assert.Equal(0, result.RemovedMm3);
        Assert.Equal(0.15 / Math.Sin(Rad(15)), result.Left.FacetWidthMm, 1e-9);
        Assert.Contains(result.Notes, note => note.Code == "nothing-removed");
    }

    [Fact]
    public void A_chip_is_ground_out_to_its_root_under_todays_edge_and_a_margin()
    {
        SectionResult result = Compute(Knife() with { LandMm = 0.030, ChipMm = 0.4 });

        Assert.Equal((0.030 / (2 * Math.Tan(Rad(15)))) + 0.4 + SectionDefaults.ChipMarginMm, result.RecessionMm, 1e-12);
        Assert.Equal(0.4 + SectionDefaults.ChipMarginMm, result.HeightLostMm, 1e-12);
        Assert.Equal(RecessionCause.Chip, result.Cause);
    }

    [Fact]
    public void Blued_steel_is_lost_to_its_depth()
    {
        SectionResult result = Compute(Knife() with { BluedDepthMm = 0.7 });

        Assert.Equal(0.7, result.RecessionMm);
        Assert.Equal(RecessionCause.BluedSteel, result.Cause);
    }

    [Fact]
    public void A_given_recession_wins_over_land_and_chip_and_says_when_a_land_stays()
    {
        SectionResult result = Compute(Knife() with { LandMm = 0.060, ChipMm = 1, RecessionMm = 0.05 });

        Assert.Equal(0.05, result.RecessionMm);
        // Land at y = 0.060 / (2 tan 15°) = 0.11196; what stays is 2 (0.11196 − 0.05) tan 15° = 0.0332.
        Assert.Equal(0.0332, result.LandLeftMm, 1e-4);
        Assert.Contains(result.Notes, note => note.Code == "land-left");
    }

    [Fact]
    public void Areas_on_both_sides_agree_with_polygon_clipping() => AnyKnife.Sample(input =>
    {
        SectionResult result = Compute(input);

        (double left, double right) = RemovedByClipping(input, result.RecessionMm);
        Assert.Equal(left, result.Left.RemovedMm2, 1e-7);
        Assert.Equal(right, result.Right.RemovedMm2, 1e-7);
        Assert.Equal((left + right) * 100, result.RemovedMm3, 1e-5);
        Assert.Equal(result.RemovedMm3 * 7.8, result.RemovedMg, 1e-9);
    }, iter: 400);

    [Fact]
    public void The_parts_drawn_make_up_the_section_before() => AnyKnife.Sample(input =>
    {
        SectionResult result = Compute(input);

        double before = AsPolygon(result.Outline.Before).Area, after = AsPolygon(result.Outline.After).Area;
        double left = result.Outline.RemovedLeft.Sum(p => AsPolygon(p).Area), right = result.Outline.RemovedRight.Sum(p => AsPolygon(p).Area);
        Assert.Equal(before, after + left + right, 1e-9);
        Assert.Equal(result.Left.RemovedMm2, left, 1e-9);
        Assert.Equal(result.Right.RemovedMm2, right, 1e-9);
        Assert.True(AsPolygon(result.Outline.After).IsValid);
    }, iter: 400);

    [Fact]
    public void Nothing_removed_is_negative_and_more_recession_never_removes_less() => AnyKnife.Sample(input =>
    {
        SectionResult less = Compute(input), more = Compute(input with { RecessionMm = input.RecessionMm + 0.05 });

        Assert.True(less.Left.RemovedMm2 >= 0 && less.Right.RemovedMm2 >= 0);
        Assert.True(more.Left.RemovedMm2 >= less.Left.RemovedMm2 - 1e-12);
        Assert.True(more.Right.RemovedMm2 >= less.Right.RemovedMm2 - 1e-12);
        Assert.True(more.BehindEdgeAfterMm >= less.BehindEdgeAfterMm - 1e-12);
    }, iter: 400);

    [Fact]
    public void A_mirrored_blade_has_a_mirrored_answer() => AnyKnife.Sample(input =>
    {
        SectionResult one = Compute(input);
        SectionResult other = Compute(input with { Old = new(input.Old.RightDeg, input.Old.LeftDeg), New = new(input.New.RightDeg, input.New.LeftDeg) });

        Assert.Equal(one.Left.RemovedMm2, other.Right.RemovedMm2, 1e-12);
        Assert.Equal(one.Right.FacetWidthMm, other.Left.FacetWidthMm, 1e-12);
        Assert.Equal(one.FullRecessionMm, other.FullRecessionMm, 1e-12);
    }, iter: 200);

    [Fact]
    public void A_flatter_facet_meets_the_flank_where_the_closed_form_says()
    {
        SectionResult result = Compute(Knife(old: 18, made: 13, behind: 0.4, flank: 2.5) with { RecessionMm = 0.2 });

        double shoulder = 0.4 / (2 * Math.Tan(Rad(18)));
        double x = Brent.FindRoot(y => ((y - 0.2) * Math.Tan(Rad(13))) - 0.2 - ((y - shoulder) * Math.Tan(Rad(2.5))), shoulder, 20, 1e-13);
        Assert.Equal(x, result.Left.ShoulderMm, 1e-9);
        Assert.Equal(x, SectionFormulas.FlankShoulderMm(shoulder, Rad(18), Rad(2.5), Rad(13), 0.2), 1e-9);
        Assert.Equal((x - 0.2) / Math.Cos(Rad(13)), result.Left.FacetWidthMm, 1e-9);
        Assert.Equal(2 * (x - 0.2) * Math.Tan(Rad(13)), result.BehindEdgeAfterMm, 1e-9);
        Assert.Equal(0, result.Left.OldFacetLeftMm);
    }

    [Fact]
    public void A_steeper_facet_must_say_what_for()
    {
        Assert.Equal("until-missing", Refusal(Knife(made: 20)).Code);
        Assert.Equal("until-missing", Refusal(Knife() with { New = new(15, 15.5) }).Code);
        Assert.Equal("micro-width-missing", Refusal(Knife(made: 20) with { Until = GrindUntil.Micro }).Code);
    }

    [Fact]
    public void A_steeper_facet_on_a_keen_edge_takes_nothing_off_when_only_an_apex_is_wanted()
    {
        SectionResult result = Compute(Knife(made: 20) with { Until = GrindUntil.Apex });

        Assert.Equal(0, result.RecessionMm);
        Assert.Equal(0, result.RemovedMm3);
        Assert.Equal(0, result.Left.FacetWidthMm);
    }

    [Fact]
    public void A_micro_bevel_comes_out_as_wide_as_wanted() =>
        (from old in Gen.Double[10, 20]
         from over in Gen.Double[1, 10]
         from part in Gen.Double[0.05, 0.8]
         select (old, over, part)).Sample(c =>
    {
        SectionInput input = Knife(old: c.old, made: c.old + c.over);
        double widest = 0.15 / Math.Sin(Rad(c.old + c.over));

        SectionResult result = Compute(input with { Until = GrindUntil.Micro, MicroWidthMm = widest * c.part });

        double root = Brent.FindRoot(r => WidthAt(r, Rad(c.old), Rad(c.old + c.over)) - (widest * c.part), 0, 5, 1e-14);
        Assert.Equal(root, result.RecessionMm, 1e-9);
        Assert.Equal(result.RecessionMm, SectionFormulas.MicroRecessionMm(widest * c.part, Rad(c.old), Rad(c.old + c.over)), 1e-9);
        Assert.Equal(widest * c.part, result.Right.FacetWidthMm, 1e-9);
        Assert.True(result.Right.OldFacetLeftMm > 0);
        Assert.Equal(0.3, result.BehindEdgeAfterMm, 1e-9);

        // Triangle of the crossing: y tan θ0 = (y − r) tan θ1, solved for y, then Pythagoras.
        static double WidthAt(double r, double old, double made)
        {
            double y = r * Math.Tan(made) / (Math.Tan(made) - Math.Tan(old)), x = y * Math.Tan(old);
            return Math.Sqrt((x * x) + ((y - r) * (y - r)));
        }
    }, iter: 200);

    [Fact]
    public void No_old_facet_left_takes_exactly_the_full_recession()
    {
        SectionInput input = Knife(old: 14, made: 18) with { Until = GrindUntil.Full };

        SectionResult result = Compute(input);

        double shoulder = 0.3 / (2 * Math.Tan(Rad(14)));
        Assert.Equal(shoulder - (0.15 / Math.Tan(Rad(18))), result.RecessionMm, 1e-12);
        Assert.Equal(result.FullRecessionMm, result.RecessionMm);
        Assert.Equal(0, result.Left.OldFacetLeftMm, 1e-9);
        Assert.Equal(0.15 / Math.Sin(Rad(18)), result.Left.FacetWidthMm, 1e-9);
        SectionResult past = Compute(input with { RecessionMm = result.FullRecessionMm + 0.3 });
        Assert.True(past.Left.ShoulderMm > shoulder);
        Assert.True(past.BehindEdgeAfterMm > 0.3);
    }

    [Fact]
    public void Sides_may_go_different_ways()
    {
        SectionResult result = Compute(Knife() with { New = new(12, 18), Until = GrindUntil.Full });

        Assert.Equal(SectionFormulas.FullRecessionMm(0.3 / (2 * Math.Tan(Rad(15))), Rad(15), Rad(18)), result.RecessionMm, 1e-12);
        Assert.True(result.Left.FacetWidthMm > result.Left.OldFacetWidthMm);
        Assert.True(result.Left.RemovedMm2 > result.Right.RemovedMm2);
    }

    [Theory]
    [InlineData(Side.Left)]
    [InlineData(Side.Right)]
    public void A_back_is_never_ground(Side back)
    {
        // A chisel: stock with parallel faces, 25° bevel all the way, 30° wanted; angles from the back.
        SidePair Pair(double deg) => back == Side.Left ? new(0, deg) : new(deg, 0);
        SectionInput input = new(3, 0, Pair(25), Pair(30), 25) { Back = back, LandMm = 0.05, Until = GrindUntil.Micro, MicroWidthMm = 0.5 };

        SectionResult result = Compute(input);

        SectionSide ground = result[back.Other()];
        Assert.Equal(0, result[back].RemovedMm2);
        Assert.Equal(0, result[back].FacetWidthMm);
        Assert.True(ground.FacetWidthMm >= 0.5 - 1e-9);
        (double left, double right) = RemovedByClipping(input, result.RecessionMm);
        Assert.Equal(back == Side.Left ? right : left, ground.RemovedMm2, 1e-9);
        Assert.Null(result.VisitsUntilThinning);
    }

    [Fact]
    public void With_a_back_the_one_flank_stands_at_the_whole_included_angle_from_it()
    {
        SectionInput input = new(2, 5, new(20, 0), new(15, 0), 150) { Back = Side.Right, RecessionMm = 0.1 };

        SectionResult result = Compute(input);

        Assert.Equal(RemovedByClipping(input, 0.1).Left, result.Left.RemovedMm2, 1e-8);
        Assert.Equal(Math.Tan(Rad(10)), result.GrowthPerMm.FixedHeight, 1e-12);
        Assert.Equal("facet-flatter-than-flank", Refusal(input with { New = new(9.5, 0) }).Code);
    }

    [Fact]
    public void Growth_per_millimetre_is_the_slope_of_the_thickness()
    {
        SectionInput input = Knife(old: 15, made: 15, flank: 3);
        SectionResult one = Compute(input with { RecessionMm = 1 }), other = Compute(input with { RecessionMm = 1.5 });

        Assert.Equal((other.BehindEdgeAfterMm - one.BehindEdgeAfterMm) / 0.5, one.GrowthPerMm.Shoulder, 1e-9);
        Assert.Equal(2 * Math.Tan(Rad(3)), one.GrowthPerMm.FixedHeight, 1e-12);
        Assert.True(one.GrowthPerMm.Shoulder > one.GrowthPerMm.FixedHeight);
    }

    [Fact]
    public void Visits_are_counted_until_the_thickness_passes_the_limit()
    {
        SectionInput input = Knife(flank: 3) with { RecessionMm = 0.06, VisitRecessionMm = 0.06, ThinningLimitMm = 0.4 };

        int visits = Compute(input).VisitsUntilThinning!.Value;

        Assert.True(Compute(input with { RecessionMm = 0.06 * (visits + 1) }).BehindEdgeAfterMm <= 0.4);
        Assert.True(Compute(input with { RecessionMm = 0.06 * (visits + 2) }).BehindEdgeAfterMm > 0.4);
        Assert.Equal(0, Compute(input with { ThinningLimitMm = 0.2 }).VisitsUntilThinning);
        Assert.Null(Compute(input with { PrimaryHalfDeg = 0 }).VisitsUntilThinning);
    }

    [Fact]
    public void Height_lost_counts_from_todays_edge_not_from_the_virtual_apex()
    {
        SectionResult result = Compute(Knife() with { LandMm = 0.1, RecessionMm = 1, HeightMm = 40 });

        Assert.Equal(1 - (0.1 / (2 * Math.Tan(Rad(15)))), result.HeightLostMm, 1e-12);
        Assert.Equal(40 - result.HeightLostMm, result.HeightLeftMm!.Value, 1e-12);
    }

    [Fact]
    public void Defaults_are_named_where_they_enter()
    {
        string text = Compute(Knife() with { LandMm = 0.03 }).Notes.Single(note => note.Code == "defaults-used").Text;

        Assert.Contains("7.8 mg/mm³", text, StringComparison.Ordinal);
        Assert.Contains("burr allowance", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_number_can_be_explained_and_the_partials_are_slopes()
    {
        SectionInput input = Knife(made: 13) with { LandMm = 0.03 };
        SectionResult result = Compute(input);

        IReadOnlyList<Derivation> chain = SectionExplanation.Explain(result);

        Derivation recession = chain.Single(d => d.Name == "recession of the apex");
        Assert.Equal(result.RecessionMm, recession.Value);
        double wider = Compute(input with { LandMm = 0.031 }).RecessionMm;
        Assert.Equal((wider - result.RecessionMm) / 0.001, recession.Inputs.Single(i => i.Symbol == "v").Partial!.Value, 1e-9);
        Assert.True(recession.Inputs.Single(i => i.Symbol == "burr").IsDefault);
        Derivation area = chain.Single(d => d.Name == "left area removed");
        double slope = Differentiate.FirstDerivative(r => RemovedByClipping(input, r).Left, result.RecessionMm);
        Assert.Equal(slope, area.Inputs.Single(i => i.Symbol == "r").Partial!.Value, 1e-4);
    }

    private static double Rad(double degrees) => double.DegreesToRadians(degrees);
}
