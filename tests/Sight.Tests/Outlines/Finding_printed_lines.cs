using OpenCvSharp;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Drawn on the field's grid, 0.4 mm a cell: paper of tone 5, ink 0.1 darker (natural logarithms).</summary>
public sealed class Finding_printed_lines
{
    private const float Ink = 4.9f;

    [Fact]
    public void A_straight_line_that_ends_in_bare_paper_is_printed_ticks_or_not()
    {
        using Mat mat = Paper();
        Bar(mat, 100, 60, 250, 2);
        Bar(mat, 100, 55, 1, 12);

        PrintedLine line = Assert.Single(Find(mat));

        Assert.False(line.Down);
        Assert.Equal(60.5, line.Row0, 0.2);
        Assert.Equal(100, line.From, 2.0);
        Assert.Equal(349, line.To, 2.0);
    }

    [Fact]
    public void It_may_run_down_the_mat()
    {
        using Mat mat = Paper();
        Bar(mat, 60, 100, 2, 120);

        Assert.True(Assert.Single(Find(mat)).Down);
    }

    [Fact]
    public void What_lies_on_it_does_not_end_it()
    {
        using Mat mat = Paper();
        Bar(mat, 100, 100, 250, 2);
        Bar(mat, 200, 80, 60, 90, 3.5f);

        PrintedLine line = Assert.Single(Find(mat));

        Assert.Equal(100, line.From, 2.0);
        Assert.Equal(349, line.To, 2.0);
    }

    [Fact]
    public void The_rim_of_steel_as_bright_as_the_paper_goes_round_a_corner_and_is_none()
    {
        using Mat mat = Paper();
        Cv2.Rectangle(mat, new Rect(100, 60, 250, 80), Tone(Ink), 2);

        Assert.Empty(Find(mat));
    }

    [Fact]
    public void A_rim_that_is_straight_for_a_while_and_then_bends_is_none()
    {
        // 25 mm along the mat to a bare end, then a belly of half a metre's radius.
        using Mat mat = Paper();
        for (int x = 100; x < 350; x++)
        {
            double bend = x < 163 ? 0 : 0.4 * (x - 163) * (x - 163) / 2 / 500;
            Cv2.Rectangle(mat, new Rect(x, 60 + (int)Math.Round(bend), 1, 2), Tone(Ink), -1);
        }

        Assert.Empty(Find(mat));
    }

    [Fact]
    public void A_step_from_paper_to_steel_is_none()
    {
        using Mat mat = Paper();
        Bar(mat, 100, 60, 250, 80, 4.8f);

        Assert.Empty(Find(mat));
    }

    [Fact]
    public void Words_beside_it_are_found_a_rim_beside_it_is_no_word()
    {
        using Mat mat = Paper();
        Bar(mat, 100, 60, 250, 2);
        for (int i = 0; i < 16; i++)
        {
            Bar(mat, 150 + (6 * i), 51, 1, 6);
            Bar(mat, 153 + (6 * i), 51, 1, 6);
            Bar(mat, 150 + (6 * i), i % 2 == 0 ? 51 : 54, 4, 1);
        }

        Bar(mat, 110, 70, 230, 2);

        WordRow words = Assert.Single(Find(mat).Single(l => Math.Abs(l.Row0 - 60.5) < 1).Words);

        Assert.InRange(words.Near, -6, -3);
        Assert.InRange(words.Far, -11, -8);
        Assert.True(words.Columns[100]);
        Assert.False(words.Columns[20]);
    }

    private static IReadOnlyList<PrintedLine> Find(Mat mat)
    {
        using Mat level = Paper();
        using Mat valid = new(mat.Size(), MatType.CV_8UC1, Scalar.All(255));
        using Mat soft = new();
        Cv2.GaussianBlur(mat, soft, new Size(0, 0), 0.5);
        return PrintedLines.Find(soft, soft, level, valid);
    }

    private static Mat Paper() => new(240, 460, MatType.CV_32FC3, Tone(5));

    private static Scalar Tone(float tone) => new(tone, tone, tone);

    private static void Bar(Mat mat, int x, int y, int wide, int high, float tone = Ink) => Cv2.Rectangle(mat, new Rect(x, y, wide, high), Tone(tone), -1);
}
