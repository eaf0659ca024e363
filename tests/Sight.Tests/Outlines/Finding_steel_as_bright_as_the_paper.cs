using OpenCvSharp;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Steel of the paper's own tone, told by steps of tone too faint for one place and by the dark line around it.</summary>
public sealed class Finding_steel_as_bright_as_the_paper
{
    [Fact]
    public void Steel_that_passes_the_papers_tone_between_dark_and_bright_belongs_to_the_blade()
    {
        (Mat tones, Mat things) = MirroringSteel(shadeOfBand: 0);
        using (tones)
        using (things)
        using (Mat level = new(tones.Size(), MatType.CV_32FC3, Scalar.All(0)))
        using (Mat valid = new(tones.Size(), MatType.CV_8UC1, Scalar.All(255)))
        {
            Assert.Equal(0, things.At<byte>(100, 150));

            RimFill.Fill(things, tones, level, valid, []);

            foreach (int row in new[] { 78, 100, 122 })
                Assert.All(Enumerable.Range(62, 176), column => Assert.Equal(255, things.At<byte>(row, column)));
            Assert.All(Enumerable.Range(40, 220), column => Assert.Equal(0, things.At<byte>(64, column)));
        }
    }

    [Theory]
    [InlineData(0, false, true)]
    [InlineData(60, false, false)]
    [InlineData(0, true, true)]
    [InlineData(60, true, false)]
    public void Steel_of_the_papers_own_tone_is_told_by_the_dark_line_around_it_unless_that_is_open_with_or_without_a_grid(int openCells, bool grid, bool steel)
    {
        // A bar of 180 by 60 cells in a line as thin as a cell and faint, one end of it seen as a thing of its own; noise as on paper.
        var random = new Random(3);
        using Mat tones = new(240, 320, MatType.CV_32FC3, Scalar.All(0));
        using Mat level = tones.Clone();
        using Mat valid = new(240, 320, MatType.CV_8UC1, Scalar.All(255));
        using Mat things = new(240, 320, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(60, 80, 4, 60), Scalar.All(255), -1);
        using Mat strokes = new(240, 320, MatType.CV_32FC1, Scalar.All(0));
        Cv2.Rectangle(strokes, new Rect(60, 80, 180, 60), Scalar.All(0.08));
        for (int line = 10; grid && line < 320; line += 25)
        {
            Cv2.Line(strokes, new Point(line, 0), new Point(line, 239), Scalar.All(0.03));
            Cv2.Line(strokes, new Point(0, line), new Point(319, line), Scalar.All(0.03));
        }

        Cv2.Rectangle(strokes, new Rect(120, 139, openCells, 1), Scalar.All(0), -1);
        strokes.GetArray(out float[] dark);
        strokes.SetArray([.. dark.Select(v => v + (0.004f * (float)random.NextDouble()))]);

        RimFill.Fill(things, tones, level, valid, [], strokes);

        Assert.Equal(steel ? 255 : 0, things.At<byte>(110, 150));
        Assert.Equal(0, things.At<byte>(160, 150));
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(0.2, false)]
    public void A_point_of_the_papers_own_tone_that_steel_goes_on_into_belongs_to_it_unless_a_rim_lies_between(double step, bool steel)
    {
        // A bar of 150 by 110 cells with a handle, whose tone comes down to the paper's at its far end, or stops short of it; from there a point of 90 cells, in a thin dark line.
        using Mat tones = new(500, 640, MatType.CV_32FC3, Scalar.All(0));
        using Mat level = tones.Clone();
        using Mat valid = new(tones.Size(), MatType.CV_8UC1, Scalar.All(255));
        using Mat things = new(tones.Size(), MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(200, 200, 150, 110), Scalar.All(255), -1);
        Cv2.Rectangle(things, new Rect(140, 200, 60, 40), Scalar.All(255), -1);
        for (int column = 200; column < 350; column++)
            Cv2.Line(tones, new Point(column, 200), new Point(column, 309), Scalar.All(step + ((350 - column) * 0.003)));
        using Mat strokes = new(tones.Size(), MatType.CV_32FC1, Scalar.All(0));
        Cv2.Line(strokes, new Point(346, 200), new Point(440, 255), Scalar.All(0.08));
        Cv2.Line(strokes, new Point(346, 309), new Point(440, 255), Scalar.All(0.08));
        var random = new Random(3);
        strokes.GetArray(out float[] dark);
        strokes.SetArray([.. dark.Select(v => v + (0.004f * (float)random.NextDouble()))]);

        RimFill.Fill(things, tones, level, valid, [], strokes);

        Assert.Equal(steel ? 255 : 0, things.At<byte>(255, 400));
        Assert.Equal(0, things.At<byte>(210, 440));
    }

    [Fact]
    public void Paper_beside_a_handle_that_runs_off_the_mat_is_shut_in_by_nothing()
    {
        // A blade, its handle to the mat's side, dark there, and a line printed along the blade's edge: what they and the mat's end enclose is paper.
        using Mat tones = new(240, 480, MatType.CV_32FC3, Scalar.All(0));
        using Mat level = tones.Clone();
        using Mat valid = new(240, 480, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(valid, new Rect(3, 3, 474, 234), Scalar.All(255), -1);
        using Mat things = new(240, 480, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(40, 60, 200, 100), Scalar.All(255), -1);
        Cv2.Rectangle(things, new Rect(240, 110, 237, 50), Scalar.All(255), -1);
        using Mat strokes = new(240, 480, MatType.CV_32FC1, Scalar.All(0));
        Cv2.Line(strokes, new Point(238, 60), new Point(477, 60), Scalar.All(0.08));
        Cv2.Line(strokes, new Point(475, 40), new Point(475, 130), Scalar.All(0.08));
        var random = new Random(4);
        strokes.GetArray(out float[] dark);
        strokes.SetArray([.. dark.Select(v => v + (0.004f * (float)random.NextDouble()))]);

        RimFill.Fill(things, tones, level, valid, [], strokes);

        Assert.Equal(0, things.At<byte>(85, 350));
    }

    [Theory]
    [InlineData(60, 100, true)] // nothing before, a bar now
    [InlineData(140, 100, true)] // a bar whose half was open
    [InlineData(220, 100, false)] // a whole bar, and paper beside it
    [InlineData(190, 130, false)] // too little to be more than a band of paper
    public void Lines_are_believed_where_they_give_a_large_piece_more_and_the_blade_becomes_no_less_convex(int stepsTo, int linesTo, bool tell)
    {
        using Mat bySteps = new(240, 320, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(bySteps, new Rect(60, 100, stepsTo - 60, 60), Scalar.All(255), -1);
        using Mat byLines = bySteps.Clone();
        Cv2.Rectangle(byLines, stepsTo == 220 ? new Rect(100, 40, 80, 60) : new Rect(60, linesTo, 160, 160 - linesTo), Scalar.All(255), -1);
        Assert.Equal(tell, RimFill.LinesTell(bySteps, byLines));
    }

    [Fact]
    public void A_shadow_with_a_sharp_rim_beside_the_blade_is_paper()
    {
        (Mat tones, Mat things) = MirroringSteel(shadeOfBand: 0.2);
        using (tones)
        using (things)
        using (Mat level = new(tones.Size(), MatType.CV_32FC3, Scalar.All(0)))
        using (Mat valid = new(tones.Size(), MatType.CV_8UC1, Scalar.All(255)))
        {
            RimFill.Fill(things, tones, level, valid, []);

            Assert.All(Enumerable.Range(62, 176), column => Assert.Equal(0, things.At<byte>(138, column)));
        }
    }

    /// <summary>
    /// A bar of steel, columns 60 to 239 and rows 70 to 129, whose tone runs from dark to bright across the paper's; what differs clearly from the
    /// paper is known. On request a band of shade of 16 rows lies along its lower side.
    /// </summary>
    private static (Mat Tones, Mat Things) MirroringSteel(double shadeOfBand)
    {
        var random = new Random(7);
        var tones = new Mat(200, 300, MatType.CV_32FC3, Scalar.All(0));
        var things = new Mat(200, 300, MatType.CV_8UC1, Scalar.All(0));
        for (int row = 0; row < 200; row++)
        {
            for (int column = 0; column < 300; column++)
            {
                bool steel = row is >= 70 and < 130 && column is >= 60 and < 240;
                double tone = steel ? (column - 140) / 200.0 : row is >= 130 and < 146 && column is >= 60 and < 240 ? -shadeOfBand : 0;
                float noisy = (float)(tone + (0.006 * (random.NextDouble() - 0.5)));
                tones.Set(row, column, new Vec3f(noisy, noisy, noisy));
                if (steel && Math.Abs(tone) > 0.2)
                    things.Set(row, column, (byte)255);
            }
        }

        return (tones, things);
    }
}
