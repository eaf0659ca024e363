using System.Text.RegularExpressions;
using System.Xml.Linq;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Tests.Sheets;

/// <summary>The bench sheet on paper and as a page; all samples are invented.</summary>
public sealed partial class BenchSheetTests
{
    public static TheoryData<int, bool, int, bool, bool> Sheets => new()
    {
        // wheels, sides differ, clamps, inches with comma, left-handed
        { 1, false, 1, false, false }, { 3, false, 1, false, false }, { 3, true, 1, true, true }, { 3, false, 2, false, false }, { 2, true, 2, true, false },
    };

    [Theory]
    [MemberData(nameof(Sheets))]
    public void It_is_one_A4_page_with_embedded_fonts(int wheels, bool sidesDiffer, int clamps, bool inches, bool leftHanded)
    {
        BenchSheet sheet = SampleSheets.Kitchen(new(inches, inches, leftHanded), wheels, sidesDiffer, clamps);
        using var page = new PrintedPage(BenchSheetPdf.Write(sheet));

        string info = page.Info();

        Assert.Matches(@"Pages:\s+1\n", info);
        Assert.Matches(@"Page size:\s+595\.\d+ x 841\.\d+ pts \(A4\)", info);
        Assert.All(page.Fonts().Split('\n', StringSplitOptions.RemoveEmptyEntries)[2..], line => Assert.Matches(@"DejaVu ?Sans.*\syes\s+yes\s+yes", line));
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void No_text_is_larger_than_the_numbers_to_dial(int wheels, bool sidesDiffer, int clamps, bool inches, bool leftHanded)
    {
        BenchSheet sheet = SampleSheets.Kitchen(new(inches, inches, leftHanded), wheels, sidesDiffer, clamps);
        var figures = new Figures(sheet.Style);
        string[] numbers = [.. sheet.Clamps.SelectMany(c => c.Settings).Select(s => figures.LengthNumber(s.DialMm!.Value, 2))];

        DrawingItem.Text[] texts = [.. BenchSheetPdf.Draw(sheet).Items.OfType<DrawingItem.Text>()];

        double dial = texts.Where(t => numbers.Contains(t.Words, StringComparer.Ordinal)).Max(t => t.SizeMm);
        Assert.All(texts.Where(t => !numbers.Contains(t.Words, StringComparer.Ordinal)), t => Assert.True(t.SizeMm <= dial, $"\"{t.Words}\" is {t.SizeMm} mm, the number to dial {dial} mm."));
        Assert.All(numbers, n => Assert.Contains(texts, t => t.Words == n && t.SizeMm >= 6));
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Everything_stays_on_the_page_and_no_text_is_too_small_to_read(int wheels, bool sidesDiffer, int clamps, bool inches, bool leftHanded)
    {
        Drawing drawing = BenchSheetPdf.Draw(SampleSheets.Kitchen(new(inches, inches, leftHanded), wheels, sidesDiffer, clamps));

        foreach (DrawingItem.Text text in drawing.Items.OfType<DrawingItem.Text>())
        {
            double width = Whetwright.Paper.Fonts.FontMetrics.Of(text.Face).WidthMm(text.Words, text.SizeMm);
            double left = text.AtMm.X - (text.Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => width / 2, _ => width });
            Assert.True(left >= 5 && left + width <= 205 && text.AtMm.Y is > 8 and < 292, $"\"{text.Words}\" leaves the page.");
            Assert.True(text.SizeMm >= 1.9, $"\"{text.Words}\" is {text.SizeMm} mm.");
        }
    }

    [Fact]
    public void Paper_and_page_say_the_same_numbers_clamp_cautions_entries_and_reference()
    {
        BenchSheet sheet = SampleSheets.Kitchen();
        using var page = new PrintedPage(BenchSheetPdf.Write(sheet));

        string pdf = Spaces().Replace(page.Text(), " ");
        string html = Spaces().Replace(Tags().Replace(BenchSheetHtml.Write(sheet), " "), " ");

        var figures = new Figures(sheet.Style);
        string[] said =
        [
            .. sheet.Clamps[0].Settings.Select(s => figures.LengthNumber(s.DialMm!.Value, 2)),
            "K-417", "93.6 mm", "42.0 mm", "1.4°, tip up", "0.35 mm", "25.7° ± 0.3°", "entry 14, 2026-11-20", "default, not measured",
            "114.2 mm", "+1.25 mm", "0.83 turns", "Never look into the laser", "measured or dressed since", "JIS 1000", "Invented sample",
        ];
        Assert.All(said, s => Assert.Contains(s, pdf, StringComparison.Ordinal));
        Assert.All(said, s => Assert.Contains(s, html, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Every_wheel_keeps_its_travel_touch_off_and_diameter_entry_on_paper(int wheels, bool sidesDiffer, int clamps, bool inches, bool leftHanded)
    {
        BenchSheet sheet = SampleSheets.Kitchen(new(inches, inches, leftHanded), wheels, sidesDiffer, clamps);

        string[] words = [.. BenchSheetPdf.Draw(sheet).Items.OfType<DrawingItem.Text>().Select(t => t.Words)];

        Assert.Equal(wheels * clamps, words.Count(w => w.Contains("from now", StringComparison.Ordinal)));
        Assert.Equal(wheels * clamps, words.Count(w => w.Contains("touch-off", StringComparison.Ordinal)));
        Assert.Equal(wheels, words.Count(w => w.Contains("entry 14", StringComparison.Ordinal) || w.Contains("default, not measured", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_correction_that_the_numbers_take_out_is_said_on_the_page_and_in_print()
    {
        const string said = "fine grinds 0.30° steeper than it is set";
        BenchSheet sheet = SampleSheets.Kitchen() with { Corrections = [said] };

        Assert.Contains(said, BenchSheetHtml.Write(sheet), StringComparison.Ordinal);
        Assert.Contains(said, Spaces().Replace(string.Join(' ', BenchSheetPdf.Draw(sheet).Items.OfType<DrawingItem.Text>().Select(t => t.Words)), " "), StringComparison.Ordinal);
    }

    /// <summary>By hand: √(0.8² + 0.6²) = 1.0 mm of wear beside 0.2 mm of measuring is 1.02 mm, twice that 2.0 mm, 0.080 in.</summary>
    [Fact]
    public void Wear_since_a_wheel_was_measured_is_said_in_the_sheets_own_units_and_dates()
    {
        Wheel wheel = new("coarse", MeasuredLength.FromMillimetres(247.6, 0.2)) { Worn = MeasuredLength.FromMillimetres(0.8, 0.6), MeasuredOn = new(2026, 3, 7) };

        Assert.Equal(
            [new("coarse: about 0.8 mm worn since it was measured on 2026-03-07, foretold from what it ground. "
                + "The number to dial keeps the measured diameter, now known to ± 2.0 mm (k = 2) instead of ± 0.4 mm. Measure it again.", true)],
            WearWords.Of(Dialled(wheel, wheel), new(new())));
        Assert.Equal(
            [new("coarse: about 0,03 in worn since it was measured on 7. März, foretold from what it ground. "
                + "The number to dial keeps the measured diameter, now known to ± 0,08 in (k = 2) instead of ± 0,02 in. Measure it again.", true)],
            WearWords.Of(Dialled(wheel), new(new(Inches: true, DecimalComma: true) { Day = _ => "7. März" })));
    }

    [Fact]
    public void A_little_wear_asks_for_no_measuring_and_what_no_calliper_sees_is_not_said()
    {
        Wheel little = new("fine", MeasuredLength.FromMillimetres(250, 0.2)) { Worn = MeasuredLength.FromMillimetres(0.1, 0.05) };
        Wheel less = little with { Worn = MeasuredLength.FromMillimetres(0.04, 0.3) };

        Assert.Equal(
            [new("fine: about 0.1 mm worn since it was measured, foretold from what it ground. The number to dial keeps the measured diameter, now known to ± 0.5 mm (k = 2).", false)],
            WearWords.Of(Dialled(little), new(new())));
        Assert.Empty(WearWords.Of(Dialled(less, new("leather", MeasuredLength.FromMillimetres(220, 0.2))), new(new())));
    }

    [Fact]
    public void The_paper_says_the_wear_and_where_the_doubt_comes_from()
    {
        BenchSheet sheet = SampleSheets.Kitchen() with { Wear = [new("coarse: about 0.8 mm worn", true)], Budget = ["wear since the wheel was measured ± 0.4°", "support distance ± 0.3°"] };

        foreach (string said in (string[])["coarse: about 0.8 mm worn", "The uncertainty of the angle comes from wear since the wheel was measured ± 0.4°, support distance ± 0.3° (k = 2)."])
        {
            Assert.Contains(said, BenchSheetHtml.Write(sheet), StringComparison.Ordinal);
            Assert.Contains(said, Spaces().Replace(string.Join(' ', BenchSheetPdf.Draw(sheet).Items.OfType<DrawingItem.Text>().Select(t => t.Words)), " "), StringComparison.Ordinal);
        }

        Assert.DoesNotContain("uncertainty comes from", BenchSheetHtml.Write(sheet with { Wear = [] }), StringComparison.Ordinal);
    }

    private static SettingPlan Dialled(params Wheel[] wheels) => new()
    {
        Clamps = [new() { FromMm = 0, ToMm = 200, WorstDeg = 0.1, Angles = [], Settings = [.. wheels.Select(w => new WheelSetting
        {
            Wheel = w, Side = Side.Left, Wanted = Angle.FromDegrees(15), WorstDeg = 0.1, AnglesDeg = [15], OffsetMm = 0, BarCentreToAxisMm = 200, BarFarSideToWheelMm = 82,
        })] }],
    };

    [Fact]
    public void Each_side_has_its_own_number_where_the_sides_differ()
    {
        string html = BenchSheetHtml.Write(SampleSheets.Kitchen(null, 1, sidesDiffer: true));

        Assert.Contains("left side", html, StringComparison.Ordinal);
        Assert.Contains("right side", html, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_whose_wheel_was_dressed_since_says_stale()
    {
        BenchSheet fresh = SampleSheets.Kitchen();
        BenchSheet stale = fresh with { Clamps = [fresh.Clamps[0] with { Settings = [fresh.Clamps[0].Settings[0] with { IsStale = true }] }] };

        Assert.Contains("STALE", BenchSheetHtml.Write(stale), StringComparison.Ordinal);
        Assert.DoesNotContain("STALE", BenchSheetHtml.Write(fresh), StringComparison.Ordinal);
        Assert.Contains(BenchSheetPdf.Draw(stale).Items.OfType<DrawingItem.Text>(), t => t.Words.Contains("STALE", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void The_page_is_well_formed_stands_alone_and_repeats(int wheels, bool sidesDiffer, int clamps, bool inches, bool leftHanded)
    {
        BenchSheet sheet = SampleSheets.Kitchen(new(inches, inches, leftHanded), wheels, sidesDiffer, clamps);

        string html = BenchSheetHtml.Write(sheet);

        XDocument document = XDocument.Parse(html);
        string[] ids = [.. document.Descendants().Attributes("id").Select(a => a.Value)];
        Assert.Equal(ids.Length, ids.Distinct(StringComparer.Ordinal).Count());
        Assert.DoesNotContain(document.Descendants().Attributes(), a => a.Name.LocalName is "src" or "href");
        Assert.DoesNotContain(document.Descendants(), e => e.Name.LocalName == "script");
        Assert.All(document.Descendants().Where(e => e.Name.LocalName == "svg"), svg =>
        {
            Assert.Contains(svg.Elements(), e => e.Name.LocalName == "title");
            Assert.Contains(svg.Elements(), e => e.Name.LocalName == "desc");
        });
        Assert.Equal(html, BenchSheetHtml.Write(sheet));
    }

    [Fact]
    public void Text_is_escaped_and_cannot_become_markup()
    {
        const string nasty = "<script>alert(\"x\" & 'y')</script>\u0001\uD800";
        BenchSheet sheet = SampleSheets.Kitchen() with
        {
            Title = nasty, Owner = nasty, Wish = nasty, Reference = "R<1>", Cautions = [nasty], Stages = [new(nasty, nasty, nasty, nasty)], SectionFacts = [new(nasty, nasty)],
            Omissions = [new("x", nasty)], DefaultsUsed = [nasty],
        };

        string html = BenchSheetHtml.Write(sheet);

        XDocument document = XDocument.Parse(html);
        Assert.DoesNotContain(document.Descendants(), e => e.Name.LocalName == "script");
        Assert.Contains("&lt;script&gt;", html, StringComparison.Ordinal);
        Assert.NotEmpty(BenchSheetPdf.Write(sheet));
    }

    [Fact]
    public void A_long_name_is_shortened_and_long_lists_shrink_rather_than_leave_the_page()
    {
        string endless = string.Join(' ', Enumerable.Repeat("a very long line that somebody typed", 12));
        BenchSheet sheet = SampleSheets.Kitchen() with { Title = endless, Owner = endless, Reference = "K-417-EXTREMELY-LONG-NUMBER" };

        Drawing drawing = BenchSheetPdf.Draw(sheet);

        Assert.All(drawing.Items.OfType<DrawingItem.Text>().Where(t => t.Anchor == TextAnchor.Start), t =>
            Assert.True(t.AtMm.X + Whetwright.Paper.Fonts.FontMetrics.Of(t.Face).WidthMm(t.Words, t.SizeMm) < 206));
    }

    [Fact]
    public void A_left_handed_sheet_shows_the_rig_mirrored_and_a_decimal_comma_where_asked()
    {
        string right = BenchSheetHtml.Write(SampleSheets.Kitchen());
        string left = BenchSheetHtml.Write(SampleSheets.Kitchen(new(DecimalComma: true, LeftHanded: true)));

        Assert.Contains("<body class=\"left-handed\">", left, StringComparison.Ordinal);
        Assert.DoesNotContain("left-handed\">", right, StringComparison.Ordinal);
        Assert.Contains("<strong>55,41</strong>", left, StringComparison.Ordinal);
        Assert.Contains("<strong>55.41</strong>", right, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_without_a_clamp_or_without_a_finite_number_is_refused()
    {
        BenchSheet sheet = SampleSheets.Kitchen();

        Assert.Throws<ArgumentException>(() => BenchSheetPdf.Write(sheet with { Clamps = [] }));
        Assert.Throws<ArgumentException>(() => BenchSheetHtml.Write(sheet with { Clamps = [sheet.Clamps[0] with { Settings = [] }] }));
        Assert.Throws<ArgumentException>(() => BenchSheetPdf.Write(sheet with { Clamps = [sheet.Clamps[0] with { Settings = [sheet.Clamps[0].Settings[0] with { DialMm = double.NaN }] }] }));
    }

    [Fact]
    public void A_bare_sheet_with_nothing_but_a_number_still_prints()
    {
        BenchSheet bare = new()
        {
            Reference = "7",
            Title = "Chisel",
            Clamps = [new() { FromMm = 0, ToMm = 20, Settings = [new() { Name = "Dial", DialName = "marked angle", DialDeg = 25.3, BladeSide = Side.Left, AngleDeg = 25, FromTheBack = true }] }],
        };

        Assert.NotEmpty(BenchSheetPdf.Write(bare));
        Assert.Contains("<strong>25.30</strong>", BenchSheetHtml.Write(bare), StringComparison.Ordinal);
        Assert.Contains("from the back", BenchSheetHtml.Write(bare), StringComparison.Ordinal);
    }

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
