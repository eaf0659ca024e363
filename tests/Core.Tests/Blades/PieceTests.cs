using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Blades;

public sealed class PieceTests
{
    [Fact]
    public void Every_kind_has_a_key_that_leads_back_to_it()
    {
        Assert.Equal(7, PieceKinds.All.Count);
        Assert.All(PieceKinds.All, kind => Assert.Equal(kind, PieceKinds.FromKey(kind.Key())));
        Assert.Null(PieceKinds.FromKey("machete"));
    }

    [Theory]
    [InlineData(PieceKind.DoubleBevel, AngleReference.MidPlane, 2)]
    [InlineData(PieceKind.Convex, AngleReference.MidPlane, 2)]
    [InlineData(PieceKind.Serrated, AngleReference.MidPlane, 1)]
    [InlineData(PieceKind.SingleBevel, AngleReference.Back, 1)]
    [InlineData(PieceKind.Scissors, AngleReference.Back, 1)]
    [InlineData(PieceKind.Chisel, AngleReference.Back, 1)]
    [InlineData(PieceKind.PlaneIron, AngleReference.Back, 1)]
    public void Each_kind_has_its_reference_and_the_back_is_left_alone(PieceKind kind, AngleReference reference, int groundSides)
    {
        Assert.Equal(reference, kind.Reference());
        Assert.Equal(groundSides, kind.GroundSides());
        Assert.Equal(reference == AngleReference.Back, kind.BackStaysAsItIs());
    }

    [Fact]
    public void A_convex_bevel_turns_by_its_range_over_its_arc()
    {
        ConvexBevel bevel = new(Angle.FromDegrees(12), Angle.FromDegrees(20), Length.FromMillimetres(1.5));
        double radius = bevel.Radius.Millimetres;
        Assert.Equal(1.5, 2 * radius * Math.Sin(double.DegreesToRadians(4)), 12);
        Assert.Equal(radius - Math.Sqrt((radius * radius) - (0.75 * 0.75)), bevel.Bulge.Millimetres, 12);
        Assert.Equal(16, bevel.Chord.Degrees, 12);
        Assert.Throws<InvalidOperationException>(() => (bevel with { Apex = bevel.Shoulder }).Radius);
    }

    /// <summary>[sagitta] turned round: chord 12 and sagitta 2 give r = 10.</summary>
    [Fact]
    public void A_scallop_tells_its_radius_and_the_rod()
    {
        Serration row = new(Length.FromMillimetres(12), Length.FromMillimetres(2));
        Assert.Equal(10, row.ScallopRadius.Millimetres, 12);
        Assert.Equal(RodFit.TooThick, Serration.RodFits(Length.FromMillimetres(20.1), row.ScallopRadius));
        Assert.Equal(RodFit.Fits, Serration.RodFits(Length.FromMillimetres(20), row.ScallopRadius));
        Assert.Equal(RodFit.TooThin, Serration.RodFits(Length.FromMillimetres(5), row.ScallopRadius));
        Length[] rods = [Length.FromMillimetres(5), Length.FromMillimetres(13), Length.FromMillimetres(18), Length.FromMillimetres(25)];
        Assert.Equal(18, Serration.BestRod(rods, row.ScallopRadius, out _)!.Value.Millimetres);
        Assert.Null(Serration.BestRod(rods[..1], row.ScallopRadius, out Reason? reason));
        Assert.Contains("12.0 and 20.0", reason!.Text, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new Serration(Length.FromMillimetres(4), Length.FromMillimetres(3)).ScallopRadius);
    }

    [Fact]
    public void The_inside_of_scissors_is_hollow_and_said_so_where_it_is_not()
    {
        ScissorBlade good = new(Angle.FromDegrees(50)) { InsideWidth = Length.FromMillimetres(12), HollowDepth = Length.FromMillimetres(2), Set = Length.FromMillimetres(0.8) };
        Assert.Equal(10, good.HollowRadius!.Value.Millimetres, 12);
        Assert.Empty(good.Cautions());
        ScissorBlade flat = good with { HollowDepth = Length.Zero, Set = Length.Zero };
        Assert.Null(flat.HollowRadius);
        Assert.Equal(["inside-flat", "no-set"], flat.Cautions().Select(c => c.Code), StringComparer.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(20)]
    [InlineData(-30)]
    public void A_skew_end_has_a_longer_edge_and_a_flatter_slope_along_the_bar(double skewDeg)
    {
        CuttingEnd end = new(Length.FromMillimetres(25), Angle.FromDegrees(skewDeg));
        Angle bevel = Angle.FromDegrees(25);

        // The bevel plane z = tan β·(distance behind the edge): rise per length along the bar, by vectors.
        double sigma = double.DegreesToRadians(skewDeg);
        Vector2 behind = new(Math.Sin(sigma), Math.Cos(sigma));
        Assert.Equal(Math.Tan(bevel.Radians) * behind.Dot(new(0, 1)), Math.Tan(end.AlongTheBar(bevel).Radians), 12);
        Assert.Equal(25, end.SquareToTheEdge(end.AlongTheBar(bevel)).Degrees, 12);
        Assert.Equal(25 / Math.Cos(sigma), end.ToEdge().LengthMm, 9);
        Assert.Throws<ArgumentOutOfRangeException>(() => (end with { Skew = Angle.FromDegrees(80) }).EdgeLength);
    }

    [Fact]
    public void A_bow_is_highest_in_the_middle_and_outward_on_one_side_only()
    {
        Bend bow = Bend.FromBow(1.2, 200);
        Assert.Equal(1.2, bow.AtMm(100), 12);
        Assert.Equal(0, bow.AtMm(0));
        Assert.Equal(0, bow.AtMm(250));
        Assert.Equal(1.2, bow.OutwardMm(100, Side.Left), 12);
        Assert.Equal(-1.2, bow.OutwardMm(100, Side.Right), 12);
        Assert.Contains("bendMm[1]", Bend.Refusals([new(0, 0), new(0, 1)])[0].Text, StringComparison.Ordinal);
        Assert.Contains("bendMm[1]", Bend.Refusals([new(0, 0), new(9, double.NaN)])[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_piece_with_impossible_lengths_is_refused_by_field()
    {
        Blade blade = Blade.FromShape(new(200, 45, 80, 25)) with
        {
            BehindEdge = Length.FromMillimetres(3),
            Spine = Length.FromMillimetres(2),
            Land = Length.FromMillimetres(-0.1),
            PrimaryHalf = Angle.FromDegrees(50),
        };
        Assert.Equal(["landMm", "primaryHalfDeg", "behindEdgeMm"], blade.Refusals().Select(r => r.Text.Split(' ')[0]), StringComparer.Ordinal);
        Assert.Empty(Blade.FromShape(new(200, 45, 80, 25)).Refusals());
    }
}
