using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom;
using Whetwright.Darkroom.Marks;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

/// <summary>Distance and zero from rolled photographs, the printer's scale from known lengths: against rendered and drawn truth.</summary>
public sealed class Calibrating_from_photographs
{
    private static readonly double[] FeelersMm = [0, 1.2, 2.4];

    [Theory]
    [InlineData(41)]
    [InlineData(44)]
    public void Photographs_at_known_roll_steps_give_the_distance(int seed)
    {
        Length sineBase = Length.FromMillimetres(50);
        MarkScene scene = MarkScene.Generate(Difficulty.Easy, seed);
        List<RollStep> steps = [];
        foreach (double feeler in FeelersMm)
        {
            double turned = RollCalibration.RollOf(Length.FromMillimetres(feeler), sineBase).Degrees;
            byte[] jpeg = new MarkPhotographs(scene with { Pose = scene.Pose with { RollDeg = scene.Pose.RollDeg + turned } }, 1600).Jpeg(PhotoKind.Lit);
            using Picture photo = Picture.Decode(jpeg);
            steps.Add(RollPhoto.Read(new() { First = new(photo), Target = scene.Target, Distance = MeasuredLength.FromMillimetres(scene.Pose.NominalMm, 0.1 * scene.Pose.NominalMm) }, Length.FromMillimetres(feeler)).Step!);
        }

        RollCalibrationResult fit = RollCalibration.Fit(steps, new(MeasuredLength.FromMillimetres(50, 0.02), Length.FromMillimetres(0.003), Length.FromMillimetres(0.15), Length.FromMillimetres(scene.Pose.NominalMm)));

        double off = fit.Distance.Value.Millimetres - scene.Pose.TrueMm;
        Assert.InRange(Math.Abs(off), 0, 3 * fit.Distance.StandardUncertainty.Millimetres);
        Assert.InRange(Math.Abs(off), 0, 0.06 * scene.Pose.TrueMm);
    }

    [Fact]
    public void Two_known_lengths_in_a_tilted_photo_give_the_printers_scale_both_ways()
    {
        (double kx, double ky) = (1.012, 0.991);
        using Picture photo = DrawnTarget.Photo();
        PointedLength Between(double x0, double y0, double x1, double y1) => new(DrawnTarget.TruePx(new(x0, y0)), DrawnTarget.TruePx(new(x1, y1)),
            MeasuredLength.FromMillimetres(Math.Sqrt(((x1 - x0) * (x1 - x0)) + ((y1 - y0) * (y1 - y0))), 0.05));

        PrintedScaleReading read = PrintedScale.Read(photo, Meant(kx, ky), Between(60, 100, 210, 106), Between(150, 40, 144, 160), MeasuredLength.FromMillimetres(0, 0));

        Assert.Null(read.Reason);
        Assert.InRange(read.Scale!.Value.Across, kx - 0.002, kx + 0.002);
        Assert.InRange(read.Scale.Value.Down, ky - 0.002, ky + 0.002);
        Assert.InRange(read.U, 0.0005, 0.005);
        Assert.True(Math.Abs(read.Scale.Value.Across - kx) < 3 * read.U && Math.Abs(read.Scale.Value.Down - ky) < 3 * read.U);
    }

    [Fact]
    public void A_ruler_that_lies_higher_than_the_paper_is_taken_out()
    {
        MeasuredLength thrown = PrintScaleFromLengths.OntoPaper(MeasuredLength.FromMillimetres(100, 0.05), MeasuredLength.FromMillimetres(1, 0.2), Length.FromMillimetres(401));

        // 100·401/400, and 100.25/400 per millimetre of height.
        Assert.Equal(100.25, thrown.Value.Millimetres, 9);
        Assert.Equal(Math.Sqrt(Math.Pow(0.05 * 1.0025, 2) + Math.Pow(0.2 * 100.25 / 400, 2)), thrown.StandardUncertainty.Millimetres, 9);
    }

    [Fact]
    public void Two_lengths_in_one_direction_and_a_place_off_the_picture_are_refused()
    {
        using Picture photo = DrawnTarget.Photo();
        PointedLength one = new(new(300, 600), new(1500, 600), MeasuredLength.FromMillimetres(200, 0.1));
        PointedLength off = new(new(300, 600), new(5000, 600), MeasuredLength.FromMillimetres(200, 0.1));
        MeasuredLength flat = MeasuredLength.FromMillimetres(0, 0);

        Assert.Contains("one direction", Assert.Throws<ArgumentException>(() => PrintedScale.Read(photo, DrawnTarget.Sheet, one, one, flat)).Message, StringComparison.Ordinal);
        Assert.Contains("off the picture", Assert.Throws<ArgumentException>(() => PrintedScale.Read(photo, DrawnTarget.Sheet, off, one, flat)).Message, StringComparison.Ordinal);
    }

    /// <summary>The sheet as it was meant, if a printer of this scale made the drawn one of it.</summary>
    private static TargetSheet Meant(double kx, double ky) => DrawnTarget.Sheet with
    {
        Fiducials = [.. DrawnTarget.Sheet.Fiducials.Select(f => new SheetFiducial(f.Id, [.. f.CornersMm.Select(c => new Point2(c.X / kx, c.Y / ky))]))],
    };
}
