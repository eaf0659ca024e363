using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>The stated standard uncertainty of the heel's place along the edge, on photographs that the project did not render and by hand.</summary>
public sealed class How_well_the_heel_is_known
{
    private static readonly StraightLine s_line = new(new(0, 0), new(0, 1));

    [Theory]
    [InlineData("easy_103", 0.5)]
    [InlineData("normal_205", 2.5)]
    public void The_true_heel_lies_within_twice_what_is_stated_and_not_much_is_stated_of_a_clear_one(string name, double mostMm)
    {
        SharedMat scene = SharedMat.Open(name);
        Vector2 along = (scene.SeenEdge[^1] - scene.SeenEdge[0]).Normalized();

        TracedOutline traced = scene.Trace(tellHeight: true);
        double heelUMm = traced.LengthBudget.HeelMm;

        Assert.InRange(heelUMm, 0.05, mostMm);
        Assert.InRange(Math.Abs((traced.EdgeAsSeenMm[0] - scene.SeenEdge[0]).Dot(along)), 0, 2 * heelUMm);
    }

    [Fact]
    public void Shadows_that_leave_the_face_in_doubt_leave_the_heel_in_doubt()
    {
        // √(0.15² + 0.2²) = 0.25.
        Assert.Equal(0.25, HeelUncertainty.Mm(Face(0.02), Lit(0.2)), 0.0001);
        Assert.Equal(0.15, HeelUncertainty.Mm(Face(0.02), Lit(0)), 0.0001);
    }

    [Fact]
    public void A_heel_put_elsewhere_than_on_its_face_is_in_doubt_by_half_of_what_lies_between()
    {
        // The outline left the edge's line 3.7 mm before the face.
        Point2[] line = [.. Enumerable.Range(0, 300).Select(i => new Point2(3.7 + (i * 0.2), 5))];

        double beside = EdgeEnds.BesideFaceMm(line, s_line);

        Assert.Equal(3.7, beside, 0.01);
        Assert.Equal(1.85, HeelUncertainty.Mm(Face(0.02), Lit(0.05), beside), 0.01);
        Assert.Equal(0.15, HeelUncertainty.Mm(Face(0.02), Lit(0), besideMm: 0.1), 0.0001);
    }

    [Fact]
    public void The_less_of_a_face_is_seen_the_less_the_heel_is_known()
    {
        double[] mm = [HeelUncertainty.Mm(Face(0.02), Lit(0.1)), HeelUncertainty.Mm(Face(0.02), null), HeelUncertainty.Mm(Face(0.6), null), HeelUncertainty.Mm(null, null)];

        Assert.Equal(mm.Order(), mm);
        Assert.Equal(4, mm.Distinct().Count());
    }

    [Theory]
    [InlineData(0.3, 0.9, 0)] // 0.3 mm from the face under the light, known to 0.15: three times √(0.15² + 0.1²) = 0.54
    [InlineData(-1.6, 0.1, 1)] // patina was taken for a shadow across the face; the outline's face is the corner's
    [InlineData(-0.8, -0.78, -1)] // both faces lie together and the corner elsewhere: another corner
    [InlineData(-2, 1.8, -1)] // near to neither
    public void A_corner_bears_out_the_face_it_lies_by_and_else_none(double fromLitMm, double fromOutlineMm, int which)
    {
        (double, double)[] faces = [(fromLitMm, 0.15), (fromOutlineMm, 0.5)];

        Assert.Equal(which < 0 ? null : faces[which], LitEnds.BornOut(faces, 0.1));
    }

    private static HeelFace Face(double scatterMm) => new(s_line, scatterMm, [], new(1, 0), 0);

    private static SideLine Lit(double doubtMm) => new(s_line, 0.01, doubtMm, null!);
}
