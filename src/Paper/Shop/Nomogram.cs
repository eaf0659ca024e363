using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Shop;

/// <summary>
/// Charts for work without power: the distance to dial read off for a protrusion and an angle, at a wheel's diameter of the day, with what to
/// add as the wheel wears. A graph and not an alignment of three scales: with a bar off the blade's mid-plane no such alignment is exact.
/// </summary>
public static class Nomogram
{
    /// <summary>How well a place is read off paper, mm (chosen, not derived).</summary>
    public const double ReadMm = 0.4;

    private const double Left = 27;
    private const double MostLossMm = 20;

    /// <summary>Charts of a wheel: one page, or one a side where the bar is off the mid-plane.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="wheel">One of its wheels, at its diameter of today.</param>
    /// <param name="format">A sheet, A4 or Letter.</param>
    /// <param name="style">Units and signs.</param>
    /// <param name="measured">When and by whom the diameter was measured, as it shall be printed; null prints nothing.</param>
    /// <param name="span">What it covers; null for the rig's own.</param>
    /// <param name="invented">The rig is invented: the chart says so.</param>
    /// <exception cref="ArgumentException">The rig or the span is refused, or the sheet is too small.</exception>
    public static IReadOnlyList<Drawing> Of(WheelAndBarRig rig, Wheel wheel, PaperFormat format, SheetStyle style, string? measured = null, NomogramSpan? span = null, bool invented = false)
    {
        if (rig.Refusals().FirstOrDefault(r => r.Code != "rig-field" || rig.Box is not null) is { } refusal)
            throw new ArgumentException(refusal.Text, nameof(rig));
        NomogramSpan covers = NomogramSpan.Checked(span ?? NomogramSpan.Of(rig.Box));
        bool alike = rig.SeatOffsetMm(Side.Left) == rig.SeatOffsetMm(Side.Right);
        Side?[] sides = alike ? [null] : [Side.Left, Side.Right];
        return [.. sides.Select(side => WheelPage(rig, wheel, side, covers, format, new Figures(style), measured, invented))];
    }

    /// <summary>The chart of a rod: the pivot's height.</summary>
    /// <exception cref="ArgumentException">As for a wheel.</exception>
    public static IReadOnlyList<Drawing> Of(GuidedRodRig rig, PaperFormat format, SheetStyle style, NomogramSpan? span = null, bool invented = false)
    {
        NomogramSpan covers = NomogramSpan.Checked(span ?? NomogramSpan.Of(rig.Box));
        var figures = new Figures(style);
        double face = rig.FaceOffsetMm ?? 0;
        double Height(double distance, double deg) => GuidedRod.PivotHeightMm(double.DegreesToRadians(deg), distance, face);
        double PerMm(double distance, double deg)
        {
            double rad = double.DegreesToRadians(deg);
            (double perHeight, _, _) = GuidedRod.SensitivityRad(rad, distance, face);
            return double.RadiansToDegrees(perHeight);
        }

        Drawing page = Page(format, "Rod: " + Name(rig), "The pivot's height read off for a distance and an angle.");
        double top = Head(page, "Height of the rod's pivot over the blade's mid-plane", Name(rig) + ", working face " + figures.Length(face, 1) + " below the rod's line", invented);
        NomogramChart chart = Chart(page, figures, covers, Height, rig.JawToPivotMm ?? 0, top, format.HeightMm!.Value - 52);
        chart.Draw(page, Across(figures, rig.JawToPivotMm), "pivot height, " + figures.LengthUnit, figures.Style.Inches ? 2 : 0);
        string[] notes =
        [
            Example(page, chart, figures, "height"),
            Accuracy(chart, figures, PerMm),
            "A stone worn thinner or a thicker one: the face moves toward the rod's line or away from it; change the height by as much, upward for a thicker stone.",
            Cautions,
        ];
        Notes(page, chart.BottomMm + 14, notes);
        return [page];
    }

    private static Drawing WheelPage(WheelAndBarRig rig, Wheel wheel, Side? side, NomogramSpan covers, PaperFormat format, Figures figures, string? measured, bool invented)
    {
        double q = rig.SeatOffsetMm(side ?? Side.Left);
        double r = wheel.RadiusMm;
        double Far(double radius, double distance, double deg) =>
            BarSlide.FarSideToWheelMm(WheelAndBar.CentreDistanceMm(radius, double.DegreesToRadians(deg), distance, q), rig.BarRadiusMm, radius);
        double PerMm(double distance, double deg) => double.RadiansToDegrees(WheelAndBar.SensitivityRad(r, double.DegreesToRadians(deg), distance, q).PerDistance);

        string of = side is { } s ? (s == Side.Left ? ", grinding the blade's left" : ", grinding the blade's right") : "";
        Drawing page = Page(format, $"{wheel.Name}: {Name(rig)}", "The bar's distance read off for a protrusion and an angle, and what to add for a worn wheel.");
        string diameter = "Ø " + figures.Length(wheel.Diameter.Value.Millimetres) + (measured is null ? "" : ", " + measured);
        double top = Head(page, "Far side of the bar to the wheel" + of, $"{Name(rig)} · {wheel.Name} · {diameter}", invented);
        double shift = rig.JawToPivotMm ?? 0;
        double bottom = format.HeightMm!.Value - 112;
        NomogramChart chart = Chart(page, figures, covers, (p, deg) => Far(r, p, deg), shift, top, bottom);
        chart.Draw(page, Across(figures, rig.JawToPivotMm), "far side of bar to wheel, " + figures.LengthUnit, figures.Style.Inches ? 2 : 0);

        // Per tenth of the usual loss: the secant over the first 10 mm (half an inch) of diameter.
        double perLoss = Math.Min(figures.Style.Inches ? 12.7 : 10, r / 5);
        int[] fives = [.. Enumerable.Range(covers.FromDeg, covers.ToDeg - covers.FromDeg + 1).Where(d => d % 5 == 0 || d == covers.FromDeg || d == covers.ToDeg)];
        double Added(double distance, double deg, double loss) => Far(r - (loss / 2), distance, deg) - Far(r, distance, deg);
        string title = $"Worn wheel: add for every {figures.Length(perLoss, 1)} that the diameter has lost";
        double second = chart.BottomMm + 16;
        page.Text(Left, second, title, 3.6, TextAnchor.Start, TextFace.Bold);
        var worn = new NomogramChart(figures, covers, (p, deg) => Added(p, deg, perLoss), fives, shift, Left, second + 3, page.WidthMm - 22, second + 42);
        worn.Draw(page, Across(figures, rig.JawToPivotMm), "add, " + figures.LengthUnit, figures.Style.Inches ? 3 : 2);

        double most = Math.Min(MostLossMm, r / 2.5);
        double bent = Corners(covers).Max(c => Math.Abs(Added(c.Mm, c.Deg, most) - (most / perLoss * Added(c.Mm, c.Deg, perLoss))));
        List<string> notes =
        [
            Example(page, chart, figures, "bar distance") + $" With {figures.Length(perLoss, 1)} of diameter gone: {figures.Length(Far(r, Mid(covers), MidDeg(covers)) + Added(Mid(covers), MidDeg(covers), perLoss))}.",
            Accuracy(chart, figures, PerMm) + $" The correction holds to {figures.Length(Math.Max(bent, 0.01), 2)} until {figures.Length(most, 0)} of diameter are gone; then print a new chart.",
        ];
        if (wheel.Offset.Degrees != 0)
            notes.Add($"The angles are those ground on this wheel; it is used {figures.Degrees(wheel.Offset.Degrees)} over the angle wanted.");
        if (rig.GripInEffect == GripKind.FixedJaw)
            notes.Add("For a fixed jaw squared with its shim; without it each side is off by about the blade's primary half-angle.");
        string[] defaults = [.. rig.Defaults.Where(d => d.Field is "barDiameterMm" or "seat" or "offsetMm" or "holderHalfThicknessMm" or "jawToPivotMm").Select(d => d.Field + " " + d.Value)];
        if (defaults.Length > 0)
            notes.Add("Defaults that nobody measured: " + string.Join("; ", defaults) + ".");
        notes.Add(Cautions);
        Notes(page, worn.BottomMm + 13, notes);
        return page;
    }

    private const string Cautions = "Guards, eye protection, no gloves near what turns; wheels only within the speed marked on them. The maker's instructions decide.";

    private static string Name(Rig rig) => rig.Name.Length > 0 ? rig.Name : rig.Kind;

    private static double Mid(NomogramSpan span) => Math.Round((span.FromMm + span.ToMm) / 20) * 10;

    private static int MidDeg(NomogramSpan span) => (span.FromDeg + span.ToDeg) / 2;

    private static IEnumerable<(double Mm, double Deg)> Corners(NomogramSpan span) =>
        [(span.FromMm, span.FromDeg), (span.FromMm, span.ToDeg), (span.ToMm, span.FromDeg), (span.ToMm, span.ToDeg)];

    private static Drawing Page(PaperFormat format, string title, string says) => format is { WidthMm: >= 200, HeightMm: >= 270 }
        ? new Drawing(format.WidthMm, format.HeightMm.Value, title, says)
        : throw new ArgumentException($"The chart is read off A4 or Letter; {format.Name} is too small.", nameof(format));

    private static double Head(Drawing page, string title, string of, bool invented)
    {
        double right = page.WidthMm - 12;
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        page.Text(12, 18, title, bold.SizeToFit(title, 5.2, right - 12), TextAnchor.Start, TextFace.Bold);
        double y = page.Paragraph(12, 24.5, right - 12, UnprintableText.Shown(of), 3.6, maxLines: 2);
        if (invented)
            y = page.Paragraph(12, y, right - 12, "Invented example: no such rig.", 3, TextFace.Bold);
        return y + 0.5;
    }

    private static NomogramChart Chart(Drawing page, Figures figures, NomogramSpan span, Func<double, double, double> value, double shift, double top, double bottom) =>
        new(figures, span, value, [.. Enumerable.Range(span.FromDeg, span.ToDeg - span.FromDeg + 1)], shift, Left, top, page.WidthMm - 22, bottom);

    private static string Across(Figures figures, double? jawToPivotMm) => jawToPivotMm is null
        ? "pivot to edge, " + figures.LengthUnit
        : $"edge out of the jaw, {figures.LengthUnit} (jaw to pivot {figures.Length(jawToPivotMm.Value)})";

    // The example's way through the chart, in broken lines with arrowheads, and in words.
    private static string Example(Drawing page, NomogramChart chart, Figures figures, string what)
    {
        double mm = Mid(chart.Span);
        int deg = MidDeg(chart.Span);
        double value = chart.Value(mm, deg);
        var way = new Stroke(0.5, Ink.Accent, 1.6);
        page.Line(chart.X(mm), chart.BottomMm, chart.X(mm), chart.Y(value), way).Line(chart.X(mm), chart.Y(value), chart.LeftMm, chart.Y(value), way);
        page.Circle(chart.X(mm), chart.Y(value), 0.9, new Stroke(0.4, Ink.Accent), Ink.Paper);
        return $"Example (broken line): {figures.Length(mm - chart.ShiftMm, 0)} and {deg}° give a {what} of {figures.Length(value)}.";
    }

    private static string Accuracy(NomogramChart chart, Figures figures, Func<double, double, double> degPerMm)
    {
        (double mm, double deg) = ReadingAccuracy(chart, degPerMm);
        return $"Read to ± {figures.Length(mm, 1)}, which is ± {figures.Degrees(deg, 2)} ({figures.Length(ReadMm)} on paper, each way; between curves by eye). Bring what was measured to it: {figures.Length(1, figures.Style.Inches ? 1 : 0)} of protrusion is about {figures.Degrees(PerProtrusion(chart, degPerMm), 1)}.";
    }

    /// <summary>The stated accuracy: the worst over the corners of paper readings both ways, mm dialled and degrees.</summary>
    internal static (double Mm, double Deg) ReadingAccuracy(NomogramChart chart, Func<double, double, double> degPerMm)
    {
        double worstMm = 0;
        double worstDeg = 0;
        foreach ((double mm, double deg) in Corners(chart.Span))
        {
            double slope = Slope(chart, mm, deg);
            double read = Math.Sqrt(Math.Pow(ReadMm / chart.ScaleUp, 2) + Math.Pow(slope * ReadMm / chart.ScaleAcross, 2));
            worstMm = Math.Max(worstMm, read);
            worstDeg = Math.Max(worstDeg, read * degPerMm(mm, deg));
        }

        return (worstMm, worstDeg);
    }

    private static double PerProtrusion(NomogramChart chart, Func<double, double, double> degPerMm) =>
        Corners(chart.Span).Max(c => Math.Abs(Slope(chart, c.Mm, c.Deg)) * degPerMm(c.Mm, c.Deg));

    private static double Slope(NomogramChart chart, double mm, double deg)
    {
        double h = (chart.Span.ToMm - chart.Span.FromMm) * 1e-4;
        return (chart.Value(mm + h, deg) - chart.Value(mm - h, deg)) / (2 * h);
    }

    private static void Notes(Drawing page, double y, IEnumerable<string> notes)
    {
        foreach (string note in notes)
            y = page.Paragraph(12, y, page.WidthMm - 24, UnprintableText.Shown(note), 2.9) + 0.8;
        if (y > page.HeightMm - 4)
            throw new InvalidOperationException("The notes pass the sheet's end.");
    }
}
