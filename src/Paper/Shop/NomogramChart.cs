using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Shop;

/// <summary>
/// A family of curves over a ruled ground: across, what the worker measured; up, what is to be dialled; one curve an angle. The curves are
/// Core's own function at 61 places, so what is read off differs from it by the reading alone.
/// </summary>
internal sealed class NomogramChart
{
    internal const int Places = 61;
    private static readonly double[] NiceSteps = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
    private readonly Figures figures;
    private readonly double unit;

    /// <summary>Lays a chart out in a window of the page.</summary>
    /// <param name="figures">Units and signs.</param>
    /// <param name="span">What it covers.</param>
    /// <param name="value">mm to dial for a distance from pivot to edge, mm, and an angle, degrees.</param>
    /// <param name="degrees">The angles that get a curve.</param>
    /// <param name="shiftMm">What is measured is the distance less this.</param>
    /// <param name="leftMm">Window.</param>
    /// <param name="topMm">Window.</param>
    /// <param name="rightMm">Window.</param>
    /// <param name="bottomMm">Window.</param>
    internal NomogramChart(
        Figures figures, NomogramSpan span, Func<double, double, double> value, IReadOnlyList<int> degrees, double shiftMm, double leftMm, double topMm, double rightMm, double bottomMm)
    {
        this.figures = figures;
        unit = figures.Style.Inches ? 25.4 : 1;
        (Span, Value, Degrees, ShiftMm) = (span, value, degrees, shiftMm);
        (LeftMm, TopMm, RightMm, BottomMm) = (leftMm, topMm, rightMm, bottomMm);
        double least = double.PositiveInfinity;
        double most = double.NegativeInfinity;
        foreach (int deg in degrees)
        {
            for (int i = 0; i < Places; i++)
            {
                double v = value(Distance(i), deg);
                (least, most) = (Math.Min(least, v), Math.Max(most, v));
            }
        }

        Require.Finite(least);
        Require.Finite(most);
        StepAcross = Step((rightMm - leftMm) / (span.ToMm - span.FromMm));
        StepUp = Step((bottomMm - topMm) / Math.Max(most - least, 1e-9));
        double major = StepUp * 5 * unit;
        LeastMm = Math.Floor((least / major) + 1e-9) * major;
        MostMm = Math.Ceiling((most / major) - 1e-9) * major;
    }

    internal NomogramSpan Span { get; }

    internal Func<double, double, double> Value { get; }

    internal IReadOnlyList<int> Degrees { get; }

    internal double ShiftMm { get; }

    internal double LeftMm { get; }

    internal double TopMm { get; }

    internal double RightMm { get; }

    internal double BottomMm { get; }

    /// <summary>Ends of the scale that is read, mm.</summary>
    internal double LeastMm { get; }

    internal double MostMm { get; }

    /// <summary>One small square, in the units shown.</summary>
    internal double StepAcross { get; }

    internal double StepUp { get; }

    /// <summary>Paper mm per mm dialled.</summary>
    internal double ScaleUp => (BottomMm - TopMm) / (MostMm - LeastMm);

    /// <summary>Paper mm per mm measured.</summary>
    internal double ScaleAcross => (RightMm - LeftMm) / (Span.ToMm - Span.FromMm);

    internal double X(double distanceMm) => LeftMm + ((distanceMm - Span.FromMm) * ScaleAcross);

    internal double Y(double valueMm) => BottomMm - ((valueMm - LeastMm) * ScaleUp);

    internal void Draw(Drawing page, string across, string up, int upDecimals)
    {
        Grid(page, upDecimals);
        page.Text((LeftMm + RightMm) / 2, BottomMm + 8.2, across, 3.2, TextAnchor.Middle, TextFace.Bold);
        page.Text(LeftMm - 11.5, (TopMm + BottomMm) / 2, up, FontMetrics.Of(TextFace.Bold).SizeToFit(up, 3.2, BottomMm - TopMm), TextAnchor.Middle, TextFace.Bold, turnDeg: -90);
        double last = double.PositiveInfinity;
        foreach (int deg in Degrees)
        {
            bool five = deg % 5 == 0;
            page.Polyline(Enumerable.Range(0, Places).Select(i => new Point2(X(Distance(i)), Y(Value(Distance(i), deg)))), new Stroke(five ? 0.45 : 0.22, five ? Ink.Accent : Ink.Main));
            double y = Y(Value(Span.ToMm, deg));
            if (Math.Abs(y - last) < 2.7 && !five)
                continue;
            page.Text(RightMm + 1, y + 1, deg.ToString(CultureInfo.InvariantCulture) + "°", five ? 3.2 : 2.7, TextAnchor.Start, five ? TextFace.Bold : TextFace.Regular);
            last = y;
        }
    }

    private double Distance(int place) => Span.FromMm + ((Span.ToMm - Span.FromMm) * place / (Places - 1));

    // The least step of the 1-2-5 row that leaves 1.2 mm between lines.
    private double Step(double paperPerMm)
    {
        foreach (double step in NiceSteps)
        {
            if (step * unit * paperPerMm >= 1.2)
                return step;
        }

        return NiceSteps[^1];
    }

    private void Grid(Drawing page, int upDecimals)
    {
        foreach ((long k, double at) in Lines(StepAcross, Span.FromMm - ShiftMm, Span.ToMm - ShiftMm))
        {
            double x = X(at + ShiftMm);
            page.Line(x, TopMm, x, BottomMm, Rule(k));
            int decimals = figures.Style.Inches ? 2 : StepAcross < 0.1 ? 1 : 0;
            if (k % 10 == 0)
                page.Text(x, BottomMm + 3.8, figures.Fixed(at / unit, decimals), 2.8, TextAnchor.Middle);
        }

        foreach ((long k, double at) in Lines(StepUp, LeastMm, MostMm))
        {
            page.Line(LeftMm, Y(at), RightMm, Y(at), Rule(k));
            if (k % Labelled(StepUp, upDecimals) == 0)
                page.Text(LeftMm - 1.2, Y(at) + 1, figures.Fixed(at / unit, upDecimals), 2.8, TextAnchor.End);
        }

        page.Rectangle(LeftMm, TopMm, RightMm - LeftMm, BottomMm - TopMm, new Stroke(0.35));
    }

    // Every fifth line carries its number, or every tenth where the fifth would need more decimals.
    private static int Labelled(double step, int decimals) => Math.Abs(Math.Round(step * 5, decimals) - (step * 5)) < 1e-9 ? 5 : 10;

    private static Stroke Rule(long k) => k % 10 == 0 ? new(0.18, Ink.Muted) : k % 5 == 0 ? new(0.13, Ink.Muted) : new(0.08, Ink.Faint);

    private IEnumerable<(long K, double AtMm)> Lines(double step, double fromMm, double toMm)
    {
        double mm = step * unit;
        for (long k = (long)Math.Ceiling((fromMm / mm) - 1e-9); k * mm <= toMm + 1e-9; k++)
            yield return (k, k * mm);
    }
}
