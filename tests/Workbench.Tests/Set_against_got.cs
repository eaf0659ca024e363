using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench.Tests;

/// <summary>Decision rule with guard bands, k = 2: JCGM 106:2012 clause 8 (from memory; the arithmetic is plain).</summary>
public sealed class Set_against_got
{
    private static readonly DateTime When = new(2026, 3, 2, 10, 0, 0, DateTimeKind.Utc);

    [Theory]
    [InlineData(13.1, 0.1, GotVerdict.Within)]
    [InlineData(13.4, 0.1, GotVerdict.CannotTell)]
    [InlineData(13.6, 0.1, GotVerdict.CannotTell)]
    [InlineData(13.8, 0.1, GotVerdict.Outside)]
    [InlineData(12.2, 0.1, GotVerdict.Outside)]
    [InlineData(13.0, 0.3, GotVerdict.CannotTell)]
    public void A_side_is_within_only_where_its_doubt_is_within_too(double got, double u, GotVerdict verdict)
    {
        SetAgainstGot side = SetAgainstGot.Of(AngleReference.MidPlane, null, Aim(13, 13), Check(got, u, 13, 0.1))[0];

        Assert.Equal(verdict, side.Verdict);
        Assert.Equal(Side.Left, side.Blade);
    }

    [Fact]
    public void Words_say_which_way_and_how_much()
    {
        Assert.Equal("0.8° too steep: out of ± 0.5°", SetAgainstGot.Of(AngleReference.MidPlane, null, Aim(13, 13), Check(13.8, 0.1, 13, 0.1))[0].Words);
        Assert.Equal("not read", SetAgainstGot.Of(AngleReference.MidPlane, null, Aim(13, 13), null)[1].Words);
    }

    [Fact]
    public void A_piece_with_a_back_is_judged_from_its_back_on_the_ground_side_alone()
    {
        SetAgainstGot side = Assert.Single(SetAgainstGot.Of(AngleReference.Back, "right", Aim(0, 25), Check(null, null, null, null, 25.2, 0.1)));

        Assert.Equal((Side.Right, 25.0, 25.2), (side.Blade, side.SetDeg, side.GotDeg));
        Assert.Equal(GotVerdict.Within, side.Verdict);
    }

    [Fact]
    public void Without_the_tip_noted_both_sides_share_the_mean()
    {
        SetAgainstGot side = Assert.Single(SetAgainstGot.Of(AngleReference.MidPlane, null, Aim(13, 14), Check(null, null, null, null, 27.2, 0.2)));

        Assert.Null(side.Blade);
        Assert.Equal((13.5, 13.6, 0.1), (side.SetDeg, side.GotDeg!.Value, side.GotUDeg!.Value));
    }

    [Fact]
    public void Found_angles_take_the_sides_the_back_or_the_mean()
    {
        Assert.Equal(new(13.8, 13.2), FoundAngles.Of(AngleReference.MidPlane, null, Check(13.8, 0.1, 13.2, 0.1, 27, 0.1)));
        Assert.Equal(new(25, 0), FoundAngles.Of(AngleReference.Back, "left", Check(null, null, null, null, 25, 0.1)));
        Assert.Equal(new(13.5, 13.5), FoundAngles.Of(AngleReference.MidPlane, null, Check(null, null, null, null, 27, 0.1)));
        Assert.Null(FoundAngles.Of(AngleReference.MidPlane, null, Check(13.8, 0.1, null, null)));
    }

    private static AimChosen Aim(double left, double right) => new() { HappenedAt = When, EnteredAt = When, LeftDeg = left, RightDeg = right, ToleranceDeg = 0.5 };

    private static Reading Check(double? left, double? leftU, double? right, double? rightU, double? included = null, double? includedU = null) => new()
    {
        HappenedAt = When, EnteredAt = When, Purpose = ReadingPurpose.Check, MountIds = [], Method = "m", MethodVersion = "1", InputsJson = "{}", ResultJson = "{}", Outcome = "read",
        LeftDeg = left, LeftUDeg = leftU, RightDeg = right, RightUDeg = rightU, IncludedDeg = included, IncludedUDeg = includedU,
    };
}
