using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Tests.Shop;

namespace Whetwright.Paper.Tests.Pictures;

/// <summary>The pictures of the pages: rigs with named dimensions, histories, outlines, loads.</summary>
public sealed class Page_pictures
{
    private static readonly CultureInfo English = CultureInfo.GetCultureInfo("en-GB");

    public static TheoryData<string> Rigs => ["rests", "through", "rod", "stone"];

    [Theory]
    [MemberData(nameof(Rigs))]
    public void Every_dimension_has_a_letter_on_the_rig_and_its_name_and_value_beneath_and_one_is_to_dial(string kind)
    {
        Drawing drawing = RigPicture.Named(View(kind), new());

        DrawingItem.Text[] texts = [.. drawing.Items.OfType<DrawingItem.Text>()];
        string[] keys = [.. texts.Where(t => t.AtMm.X == 1 && t.Words.Length == 1).Select(t => t.Words)];
        Assert.True(keys.Length >= 4);
        Assert.All(keys, k => Assert.Equal(2, texts.Count(t => t.Words == k)));
        Assert.Single(texts, t => t.Words.EndsWith(": to dial", StringComparison.Ordinal));
        PageChecks.Clean([drawing]);
    }

    [Theory]
    [MemberData(nameof(Rigs))]
    public void The_arrow_to_dial_is_as_long_as_its_value_at_the_drawings_scale(string kind)
    {
        RigView view = View(kind);

        Drawing drawing = RigPicture.Named(view, new());

        // The arrow to dial is upright and the only thick accent line; the scale comes from another arrow with a known length.
        Point2[] dial = [.. drawing.Items.OfType<DrawingItem.Path>().Single(p => p.Stroke is { Ink: Ink.Accent, WidthMm: 0.7 }).PointsMm];
        double longest = drawing.Items.OfType<DrawingItem.Path>().Where(p => p.Stroke is { Ink: Ink.Main, WidthMm: 0.3 } && p.PointsMm.Count == 2).Max(p => p.PointsMm[0].DistanceTo(p.PointsMm[1]));
        (double known, double value) = view switch
        {
            WheelAndBarView w => (w.WheelDiameterMm, w.BarFarSideToWheelMm),
            GuidedRodView r => (r.SupportDistanceMm, r.PivotHeightMm),
            BenchStoneView s => (s.SupportDistanceMm, s.LiftMm),
            _ => throw new InvalidOperationException(),
        };
        Assert.Equal(value, dial[0].DistanceTo(dial[1]) / longest * known, 0.02);
    }

    [Fact]
    public void A_history_marks_each_visit_at_its_angle_with_bars_of_twice_u_and_tells_sides_apart_without_colour()
    {
        Drawing drawing = HistoryPicture.Draw(PageSamples.History, new(), English);

        DrawingItem.Path left = drawing.Items.OfType<DrawingItem.Path>().First(p => !p.Closed && p.PointsMm.Count == 5 && p.Stroke!.Value.DashMm is null);
        DrawingItem.Path right = drawing.Items.OfType<DrawingItem.Path>().Single(p => !p.Closed && p.PointsMm.Count == 5 && p.Stroke!.Value.DashMm is not null);
        // 17.9° to 13.1° on the left, 16.2° to 13.0° on the right: one scale for both.
        double perDegree = (left.PointsMm[^1].Y - left.PointsMm[0].Y) / (17.9 - 13.1);
        Assert.Equal((16.2 - 13.0) * perDegree, right.PointsMm[^1].Y - right.PointsMm[0].Y, 0.001);
        Assert.Contains(drawing.Items.OfType<DrawingItem.Path>(), p => p.PointsMm.Count == 2 && Math.Abs(p.PointsMm[0].DistanceTo(p.PointsMm[1]) - (4 * 0.4 * perDegree)) < 0.001);
        Assert.Equal(10, drawing.Items.OfType<DrawingItem.Path>().Count(p => p.Closed) + drawing.Items.OfType<DrawingItem.Circle>().Count() - 4);
        Assert.Contains("left from 17.9° on 03/10/2024 to 13.1° ± 0.4°", drawing.Description, StringComparison.Ordinal);
        PageChecks.Clean([drawing]);
    }

    [Fact]
    public void A_history_of_one_visit_is_drawn_and_of_none_is_refused()
    {
        PageChecks.Clean([HistoryPicture.Draw([PageSamples.History[0]], new(Inches: true, DecimalComma: true), CultureInfo.GetCultureInfo("de-DE"), 92, 70)]);
        Assert.Throws<ArgumentException>(() => HistoryPicture.Draw([new(new(2026, 1, 1))], new(), English));
        Assert.Throws<ArgumentOutOfRangeException>(() => HistoryPicture.Draw([new(new(2026, 1, 1), double.NaN)], new(), English));
    }

    [Fact]
    public void Two_outlines_share_one_scale_and_the_most_that_was_lost_is_said()
    {
        Drawing drawing = OutlinePicture.Draw(PageSamples.Outlines, new());

        DrawingItem.Path later = drawing.Items.OfType<DrawingItem.Path>().First(p => p is { Closed: true, Fill: Ink.Steel });
        DrawingItem.Path earlier = drawing.Items.OfType<DrawingItem.Path>().First(p => p is { Closed: true, Fill: null });
        double scale = (earlier.PointsMm[0].X - earlier.PointsMm[60].X) / (PageSamples.Outlines.EarlierMm[0].X - PageSamples.Outlines.EarlierMm[60].X);
        Assert.NotNull(earlier.Stroke!.Value.DashMm);
        Assert.Equal((PageSamples.Outlines.EarlierMm[50].Y - PageSamples.Outlines.LaterMm[50].Y) * scale, earlier.PointsMm[50].Y - later.PointsMm[50].Y, 1e-6);
        Assert.Contains("1.50 mm ± 0.16 mm (k = 2)", drawing.Description, StringComparison.Ordinal);
        PageChecks.Clean([drawing]);
    }

    [Fact]
    public void A_day_over_its_time_is_hatched_past_the_line_and_said_in_words()
    {
        Drawing drawing = LoadPicture.Draw(PageSamples.Load, English);

        string[] words = [.. drawing.Items.OfType<DrawingItem.Text>().Select(t => t.Words)];
        Assert.Contains(words, w => w == "65 min over");
        Assert.Contains(words, w => w == "no bench");
        Assert.Contains(words, w => w == "Fri 27 Nov");
        Assert.Equal("Over: Fri 27 Nov.", drawing.Description);
        DrawingItem.Path[] bars = [.. drawing.Items.OfType<DrawingItem.Path>().Where(p => p.Fill == Ink.Accent)];
        Assert.Equal(180.0 / 240, Width(bars[0]) / Width(bars[1]), 1e-9);
        PageChecks.Clean([drawing]);
        Assert.Throws<ArgumentException>(() => LoadPicture.Draw([], English));
    }

    [Fact]
    public void No_picture_carries_a_style_attribute_so_a_strict_page_shows_it()
    {
        Drawing[] all = [HistoryPicture.Draw(PageSamples.History, new(), English), OutlinePicture.Draw(PageSamples.Outlines, new()), LoadPicture.Draw(PageSamples.Load, English), RigPicture.Named(PageSamples.Stone, new())];

        Assert.All(all, d => Assert.DoesNotContain("style=", SvgWriter.Inline(d), StringComparison.Ordinal));
    }

    private static double Width(DrawingItem.Path bar) => bar.PointsMm.Max(p => p.X) - bar.PointsMm.Min(p => p.X);

    private static RigView View(string kind)
    {
        WheelAndBarView rests = SampleSheets.Rig("Fine wheel", 250, 13);
        return kind switch
        {
            "rests" => rests,
            "through" => rests with { OffsetMm = 0, BarCentreToAxisMm = Core.Fixtures.WheelAndBar.CentreDistanceMm(125, double.DegreesToRadians(13), rests.SupportDistanceMm, 0) },
            "rod" => PageSamples.Rod,
            _ => PageSamples.Stone,
        };
    }
}
