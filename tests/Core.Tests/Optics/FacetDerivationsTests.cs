using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

public sealed class FacetDerivationsTests
{
    [Fact]
    public void The_included_angle_is_explained_by_both_marks_with_the_textbooks_sensitivity()
    {
        // β = ½·atan(x/L): at 15° and 100 mm a degree is 4.6542 mm, on either side.
        TargetPlane target = new(Length.FromMillimetres(100));
        Point2 left = new(-57.7350269, 0), right = new(57.7350269, 0);

        IReadOnlyList<Derivation> chain = FacetDerivations.Explain(FacetPair.FromMarks(left, right, target, zeroRowKnown: true), left, right, target);

        Assert.Equal(30, chain[0].Value, 1e-6);
        Assert.Equal(-1 / 4.6542, chain[0].Inputs.Single(i => i.Symbol == "xL").Partial!.Value, 1e-4);
        Assert.Equal(1 / 4.6542, chain[0].Inputs.Single(i => i.Symbol == "xR").Partial!.Value, 1e-4);
        Assert.Equal(0, chain[3].Value, 1e-9);
    }

    [Fact]
    public void An_arc_is_explained_by_its_specular_point_and_skew()
    {
        TargetPlane target = new(Length.FromMillimetres(100));
        ArcPoint[] arc = [.. ScratchCone.Arc(SpecularReflection.FacetNormal(Side.Right, Angle.FromDegrees(15)), SpecularReflection.EdgeDirection(Angle.Zero),
            Angle.FromDegrees(10), target, Angle.FromDegrees(20), 21).Select(p => new ArcPoint(p, 0.1))];

        IReadOnlyList<Derivation> chain = FacetDerivations.Explain(ScratchConeFit.Fit(arc, target).Reading!);

        Assert.Equal(15, chain[0].Value, 1e-6);
        Assert.Equal(57.735, chain[0].Inputs[0].Value, 0.001);
        Assert.Equal(10, chain[1].Value, 1e-5);
    }
}
