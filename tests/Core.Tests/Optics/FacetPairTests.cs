using CsCheck;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>Two facets and their edge, at any roll and pitch. Expected values are the bevels put in.</summary>
public sealed class FacetPairTests
{
    private static readonly TargetPlane Square = new(Length.FromMillimetres(140));

    [Fact]
    public void The_bevels_come_back_from_the_marks_at_any_roll_and_pitch_on_any_sheet() =>
        Gen.Select(Gen.Double[5, 21], Gen.Double[5, 21], Gen.Double[-4, 4], Gen.Double[-6, 6], Gen.Double[-15, 15], Gen.Double[-15, 15]).Sample(
            (left, right, roll, pitch, yaw, sheetPitch) =>
            {
                TargetPlane target = new(Length.FromMillimetres(140), new(2, 1), Angle.FromDegrees(yaw), Angle.FromDegrees(sheetPitch));
                FacetPair pair = FacetPair.FromMarks(Mark(Side.Left, left, roll, pitch, target), Mark(Side.Right, right, roll, pitch, target), target, zeroRowKnown: true);
                return Near(pair.Included, left + right) && Near(pair.LeftAsRead, left - roll) && Near(pair.RightAsRead, right + roll)
                    && Near(pair.LeftAsRead + pair.RightAsRead, pair.Included.Degrees) && Near(pair.Pitch, pitch);
            },
            seed: "0N0XIzNsQ0O2", iter: 300);

    [Fact]
    public void Primaries_split_the_included_angle_into_true_sides_and_tell_the_roll() =>
        Gen.Select(Gen.Double[8, 20], Gen.Double[8, 20], Gen.Double[1, 4], Gen.Double[-0.9, 0.9], Gen.Double[-4, 4]).Sample(
            (left, right, primary, roll, pitch) =>
            {
                FacetPair edge = Pair(left, right, roll, pitch);
                FacetPair primaries = Pair(primary, primary, roll, pitch);
                FacetSplit split = edge.SplitBy(primaries);
                return Near(split.Left, left) && Near(split.Right, right) && Near(split.Roll, roll) && split.FromPrimaries;
            },
            seed: "0N0XIzNsQ0O2", iter: 300);

    [Fact]
    public void Without_primaries_the_bevels_are_halved_and_the_split_says_so()
    {
        FacetSplit split = Pair(14, 17, 0.5, 0).SplitBy(null);

        Assert.Equal(15.5, split.Left.Degrees, 1e-9);
        Assert.Equal(15.5, split.Right.Degrees, 1e-9);
        Assert.Equal(2.0, split.Roll.Degrees, 1e-9);
        Assert.False(split.FromPrimaries);
    }

    [Fact]
    public void Where_the_zero_row_is_not_known_a_pitch_stays_in_the_angles()
    {
        Point2 left = Mark(Side.Left, 15, 0, 5, Square);
        Point2 right = Mark(Side.Right, 15, 0, 5, Square);

        Assert.Equal(30, FacetPair.FromMarks(left, right, Square, zeroRowKnown: true).Included.Degrees, 1e-9);
        double uncorrected = FacetPair.FromMarks(left, right, Square, zeroRowKnown: false).Included.Degrees;
        Assert.InRange(Math.Abs(uncorrected - 30), 0.005, 0.2);
    }

    [Fact]
    public void Facets_that_are_parallel_have_no_edge_between_them()
    {
        UnitVector3 n = SpecularReflection.FacetNormal(Side.Right, Angle.Zero);

        Assert.Throws<ArgumentException>(() => FacetPair.FromNormals(-n, n));
    }

    [Fact]
    public void A_chisel_rolled_by_about_half_reads_its_whole_angle_from_the_back_exactly_at_any_roll() =>
        Gen.Select(Gen.Double[18, 38], Gen.Double[0.3, 0.7]).Sample(
            (included, share) =>
            {
                (Angle back, Angle bevel) = BackedPiece.AsReadAt(Angle.FromDegrees(included), Angle.FromDegrees(included * share));
                FacetPair pair = Pair(bevel.Degrees, back.Degrees, 0, 2);
                return Near(pair.Included, included) && Near(BackedPiece.FromTheBack(pair.LeftAsRead, pair.RightAsRead), included);
            },
            seed: "0N0XIzNsQ0O2", iter: 200);

    [Fact]
    public void The_roll_to_use_for_a_chisel_of_thirty_degrees_is_fifteen() =>
        Assert.Equal(15, BackedPiece.RollToUse(Angle.FromDegrees(30)).Degrees, 1e-12);

    private static bool Near(Angle got, double deg) => Math.Abs(got.Degrees - deg) < 1e-9;

    private static FacetPair Pair(double left, double right, double roll, double pitch) => FacetPair.FromMarks(
        Mark(Side.Left, left, roll, pitch, Square), Mark(Side.Right, right, roll, pitch, Square), Square, zeroRowKnown: true);

    private static Point2 Mark(Side side, double bevel, double roll, double pitch, TargetPlane target) => SpecularReflection.MarkOf(
        SpecularReflection.FacetNormal(side, Angle.FromDegrees(bevel), Angle.FromDegrees(roll), Angle.FromDegrees(pitch)), target)!.Value;
}
