using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Marks;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

/// <summary>Rendered facets whose light cannot say all that one would like, with the truth of the scene beside.</summary>
public sealed class Marks_that_tell_no_angle
{
    [Theory]
    [InlineData(811)]
    [InlineData(812)]
    public void Scratches_along_the_edge_leave_a_streak_and_the_reading_says_so(int seed)
    {
        MarkScene scene = MarkScene.Generate(Difficulty.Easy, seed);
        PhotoReading reading = Read(scene with { Right = Streaked(scene.Right), Left = Streaked(scene.Left) });
        Assert.NotEqual(ReadingOutcome.Read, reading.Outcome);
        Assert.Contains(reading.Reasons, r => r.Code == "streak-without-vertex");
    }

    [Fact]
    public void Scratches_square_to_the_edge_never_count_as_a_streak() =>
        Assert.DoesNotContain(Read(MarkScene.Generate(Difficulty.Easy, 811)).Reasons, r => r.Code == "streak-without-vertex");

    [Theory]
    [InlineData(3.0, FacetForm.Convex)]
    [InlineData(-3.0, FacetForm.Hollow)]
    public void A_curved_facets_range_has_the_shoulder_at_the_true_end_once_its_form_is_told_and_else_says_that_it_is_assumed(double curvatureDeg, FacetForm form)
    {
        MarkScene scene = Curved(curvatureDeg);
        (PhotoReading told, PhotoReading untold) = ReadBoth(scene, form);
        foreach ((Side side, EdgeSide truth) in new[] { (Side.Right, scene.Right), (Side.Left, scene.Left) })
        {
            FacetRange range = Assert.NotNull(told.Combined!.On(side).Range);
            Assert.Equal(truth.ShoulderDeg < truth.ApexDeg, range.Shoulder < range.Apex);
            Assert.InRange(Math.Abs((range.Apex - range.Shoulder).Degrees), 1.5, 4.5);
        }

        Assert.DoesNotContain(told.Reasons, r => r.Code == "range-ends-assumed");
        Assert.Contains(untold.Reasons, r => r.Code == "range-ends-assumed");
    }

    private static EdgeSide Streaked(EdgeSide side) => side with { SkewDeg = 88, SlopeAcross = 0.1, SlopeAlong = 0.003 };

    private static MarkScene Curved(double curvatureDeg)
    {
        MarkScene scene = MarkScene.Generate(Difficulty.Easy, 814);
        EdgeSide Side(EdgeSide s) => s with { BevelDeg = 15, CurvatureDeg = curvatureDeg, BevelWidthMm = 0.8, SlopeAlong = 0.002 };
        return scene with { Right = Side(scene.Right), Left = Side(scene.Left) };
    }

    private static PhotoReading Read(MarkScene scene) => ReadBoth(scene, null).Told;

    private static (PhotoReading Told, PhotoReading Untold) ReadBoth(MarkScene scene, FacetForm? form)
    {
        var photographs = new MarkPhotographs(scene, 1200);
        using Picture lit = Picture.Decode(photographs.Jpeg(PhotoKind.Lit));
        using Picture dark = Picture.Decode(photographs.Jpeg(PhotoKind.Dark));
        double distance = scene.Pose.TrueMm;
        PhotoReadRequest request = new()
        {
            First = new(lit, dark),
            Target = scene.Target,
            Distance = MeasuredLength.FromMillimetres(distance, 0.002 * distance),
            Laser = scene.Beam.Colour == "red" ? LaserColour.Red : LaserColour.Green,
            Form = form,
        };
        return (PhotoReader.Read(request), PhotoReader.Read(request with { Form = null }));
    }
}
