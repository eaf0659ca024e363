using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Marks;
using Whetwright.Darkroom.Mats;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

public sealed class Finding_the_blade
{
    [Theory]
    [InlineData(true)] // words printed beside the edge
    [InlineData(false)] // a check line with its own that runs under the blade
    public void What_is_printed_on_the_mat_is_no_part_of_it(bool words)
    {
        TracedOutline traced = DrawnBlade.Trace(words: words, checkLine: !words);

        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 0.5);
        Assert.InRange(traced.TipOnMatMm.DistanceTo(DrawnBlade.Tip), 0, 0.5);
        Assert.Equal(4, traced.EdgeMm.Max(p => p.Y), 0.2);
    }

    [Theory]
    [InlineData(35)] // darker than the steel
    [InlineData(155)] // paler
    public void A_handle_as_wide_as_the_blade_is_told_by_its_tone(double tone)
    {
        TracedOutline traced = DrawnBlade.Trace(gripMm: 85, gripTone: tone);

        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 0.7);
        Assert.InRange(traced.TipOnMatMm.DistanceTo(DrawnBlade.Tip), 0, 0.5);
    }

    [Fact]
    public void A_blade_told_to_lie_on_its_flank_has_no_handle_as_wide_as_itself()
    {
        TracedOutline traced = DrawnBlade.Trace(gripMm: 85, onFlank: true, edge: MatSide.Top);

        Assert.NotInRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 40);
    }

    [Theory]
    [InlineData(35)]
    [InlineData(155)]
    public void Steel_whose_tone_changes_aslant_is_no_handle(double tone)
    {
        TracedOutline traced = DrawnBlade.Trace(gripMm: 85, gripSlantMm: 40, gripTone: tone);

        Assert.NotInRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 40);
    }

    [Fact]
    public void Lines_ruled_over_the_mat_do_not_shut_in_a_soft_shade_beside_a_handle()
    {
        // A rendered knife whose handle lies aslant below such a line, its soft shade on the paper between them.
        MatScene scene = MatScene.Generate(Difficulty.Normal, 330060);
        using Picture photo = Picture.Decode(new MatPhotographs(scene, 2048).Jpeg());
        IReadOnlyList<SheetFiducial> printed = OutlineView.Printed(scene.Mat);
        FoundSheet sheet = SheetFinder.Find(photo, printed).Sheet!;

        using MatField field = MatField.From(photo, sheet.Map, new(scene.Mat.SizeMm.X, scene.Mat.SizeMm.Y), sheet.Fiducials, printed);

        int Thing(double x, double y) => field.Things.At<byte>((int)(y / MatField.StepMm), (int)(x / MatField.StepMm));
        Assert.Equal(0, Thing(54, 102.5));
        Assert.Equal(255, Thing(54, 112)); // the handle
        Assert.Equal(255, Thing(120, 100)); // the blade
    }

    [Fact]
    public void A_bay_wider_than_its_mouth_is_steel_as_bright_as_the_paper()
    {
        // 120 by 40 cells of rim, inside taken for paper, open over 20 cells at one end.
        using Mat things = new(200, 300, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(50, 50, 180, 80), Scalar.All(255), -1);
        Cv2.Rectangle(things, new Rect(60, 60, 160, 60), Scalar.All(0), -1);
        Cv2.Rectangle(things, new Rect(215, 78, 20, 20), Scalar.All(0), -1);

        SilhouetteBays.Fill(things);

        Assert.Equal(255, things.At<byte>(90, 120));
        Assert.Equal(0, things.At<byte>(90, 260));
    }

    [Theory]
    [InlineData(380)]
    [InlineData(440)] // runs off the mat and so divides the paper in two
    public void Dark_steel_whose_rim_has_a_gap_where_it_passes_the_papers_tone_belongs_to_the_blade(int steelTo)
    {
        // Steel from column 0 on, rows 100 to 169: bright, the paper's tone at column 120, then ever darker; of the dark part only the rim is known.
        var random = new Random(7);
        const int rows = 270;
        const int columns = 440;
        using Mat tones = new(rows, columns, MatType.CV_32FC3, Scalar.All(0));
        using Mat things = new(rows, columns, MatType.CV_8UC1, Scalar.All(0));
        using Mat level = new(tones.Size(), MatType.CV_32FC3, Scalar.All(0));
        using Mat valid = new(tones.Size(), MatType.CV_8UC1, Scalar.All(255));
        for (int row = 0; row < rows; row++)
        {
            for (int column = 0; column < columns; column++)
            {
                bool steel = row is >= 100 and < 170 && column < steelTo;
                bool rim = row is < 103 or >= 167 || column >= steelTo - 3;
                double tone = steel ? (120 - column) / 400.0 : 0;
                float noisy = (float)(tone + (0.006 * (random.NextDouble() - 0.5)));
                tones.Set(row, column, new Vec3f(noisy, noisy, noisy));
                if (steel && (tone > 0.05 || (rim && tone < -0.06)))
                    things.Set(row, column, (byte)255);
            }
        }

        RimFill.Fill(things, tones, level, valid, []);

        Assert.All(Enumerable.Range(180, 190), column => Assert.Equal(255, things.At<byte>(135, column)));
        Assert.All(Enumerable.Range(0, columns), column => Assert.Equal(0, things.At<byte>(92, column)));
        Assert.All(Enumerable.Range(0, columns), column => Assert.Equal(0, things.At<byte>(178, column)));
    }

    [Fact]
    public void A_notch_before_a_handle_is_mat()
    {
        using Mat things = new(200, 300, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(120, 50, 120, 80), Scalar.All(255), -1);
        Cv2.Rectangle(things, new Rect(20, 50, 120, 30), Scalar.All(255), -1);

        SilhouetteBays.Fill(things);

        Assert.Equal(0, things.At<byte>(100, 100));
    }

    [Theory]
    [InlineData(25, true)] // two coins of 26 mm side by side
    [InlineData(100, false)] // the same rounds joined by a bar, as a blade that narrows in its middle
    public void Two_coins_that_touch_are_no_blade(double apartMm, bool rounds)
    {
        List<Point2> p = [];
        for (double deg = 10; deg < 350; deg += 2)
            p.Add(new(13 * Math.Cos(deg * Math.PI / 180), 13 * Math.Sin(deg * Math.PI / 180)));
        for (double x = 13; x < apartMm - 13; x += 0.5)
            p.Add(new(x, -2.3));
        for (double deg = 190; deg < 530; deg += 2)
            p.Add(new(apartMm + (13 * Math.Cos(deg * Math.PI / 180)), 13 * Math.Sin(deg * Math.PI / 180)));
        for (double x = apartMm - 13; x > 13; x -= 0.5)
            p.Add(new(x, 2.3));

        Assert.Equal(rounds, new ThingOnMat(p, 1000, apartMm + 26, 26, Cut: false).TwoRounds);
    }
}
