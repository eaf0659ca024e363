using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Blades;

public sealed class RecurveTests
{
    private static EdgeCurve Inward(double radius, double halfChord) => EdgeCurve.FromPolyline([.. Enumerable.Range(0, 121).Select(i =>
    {
        double a = (i - 60) / 60.0 * Math.Asin(halfChord / radius);
        return new Point2(radius * Math.Sin(a), -radius * Math.Cos(a));
    })]);

    /// <summary>[sagitta] s = r − √(r² − (c/2)²); examples r = 10, c = 12, s = 2 and r = 15, c = 20, s = 3.82.</summary>
    [Theory]
    [InlineData(10, 12, 2.0)]
    [InlineData(15, 20, 3.819660112501051)]
    [InlineData(150, 40, 1.3393125268149504)]
    public void The_gap_under_a_face_over_an_inward_arc_is_the_sagitta(double radius, double faceWidth, double sagitta)
    {
        EdgeCurve edge = Inward(radius, Math.Min(0.97 * radius, 30));
        Assert.Equal(sagitta, Recurve.GapMm(edge, edge.LengthMm / 2, faceWidth), 3);
        Assert.Equal(faceWidth, Recurve.WidestFaceMm(radius, sagitta), 6);
    }

    [Theory]
    [InlineData(0, 20)]
    [InlineData(90, 26)]
    public void A_straight_or_a_belly_leaves_no_gap(double bellyFrom, double drop)
    {
        EdgeCurve edge = EdgeCurve.FromShape(new(210, 48, bellyFrom, drop));
        Assert.Empty(Recurve.Stretches(edge, 50));
        Assert.Null(Recurve.TightestInwardRadiusMm(edge));
        Assert.Equal(0, Recurve.GapMm(edge, 100, 50), 9);
    }

    [Fact]
    public void A_recurve_is_named_with_its_place_and_a_narrow_wheel_reaches_more()
    {
        EdgeCurve edge = EdgeCurve.FromPolyline([.. Enumerable.Range(0, 121).Select(i => new Point2(i, 3 * Math.Cos(Math.Tau * i / 120)))]);
        RecurveStretch wide = Assert.Single(Recurve.Stretches(edge, 50));
        Assert.InRange(wide.DeepestAtMm, edge.LengthMm / 2 - 2, edge.LengthMm / 2 + 2);
        IReadOnlyList<RecurveStretch> narrow = Recurve.Stretches(edge, 10);
        Assert.True(narrow.Sum(s => s.ToMm - s.FromMm) < wide.ToMm - wide.FromMm);
        double tightest = 120 * 120 / (3 * Math.Tau * Math.Tau);
        Assert.InRange(Recurve.TightestInwardRadiusMm(edge)!.Value, 0.97 * tightest, 1.03 * tightest);
    }
}
