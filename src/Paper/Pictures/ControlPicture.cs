using System.Globalization;
using Whetwright.Core.Metrology.Charts;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>A step to mark on a chart.</summary>
/// <param name="At">Index of the first point after it; negative where it lies before the first shown.</param>
/// <param name="Words">Short: "A".</param>
public sealed record ChartStep(int At, string Words);

/// <summary>Charts of got − wanted, piece by piece. A point beyond its limits is a square, one in a long run a ring: nothing by colour alone.</summary>
public static class ControlPicture
{
    /// <summary>Single values with their limits and the tolerance.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="runs">Points in a long run.</param>
    /// <param name="toleranceDeg">Tolerance, drawn on both sides of zero.</param>
    /// <param name="first">Name of the first point.</param>
    /// <param name="last">Name of the last.</param>
    /// <param name="steps">Steps.</param>
    /// <param name="culture">Decimal sign.</param>
    public static Drawing Individuals(IndividualsChart chart, IReadOnlyList<int> runs, double toleranceDeg, string first, string last, IReadOnlyList<ChartStep> steps, CultureInfo culture)
    {
        int n = chart.Values.Count;
        IReadOnlyList<int> beyond = chart.Outside;
        double lowest = Math.Min(Math.Min(chart.Values.Min(), chart.Lower), -toleranceDeg), highest = Math.Max(Math.Max(chart.Values.Max(), chart.Upper), toleranceDeg);
        ChartFrame frame = new(68, "Got less wanted, piece by piece",
            $"Mean {ChartFrame.Signed(chart.Mean, 2, culture)}°, limits {ChartFrame.Signed(chart.Lower, 2, culture)}° and {ChartFrame.Signed(chart.Upper, 2, culture)}°; {beyond.Count} of {n} beyond them.",
            lowest, highest, 0, n - 1, v => ChartFrame.Signed(v, 1, culture) + "°", zeroLine: true);
        frame.Across(chart.Upper, "upper limit", new Stroke(0.4, Ink.Main, 2));
        frame.Across(chart.Lower, "lower limit", new Stroke(0.4, Ink.Main, 2), below: true);
        frame.Across(chart.Mean, "mean", new Stroke(0.4));
        frame.Across(toleranceDeg, "tolerance", new Stroke(0.35, Ink.Accent, 0.7));
        frame.Across(-toleranceDeg, "tolerance", new Stroke(0.35, Ink.Accent, 0.7), below: true);
        Steps(frame, steps, n);
        for (int i = 1; i < n; i++)
            frame.Drawing.Line(frame.X(i - 1), frame.Y(chart.Values[i - 1]), frame.X(i), frame.Y(chart.Values[i]), new Stroke(0.2, Ink.Muted));
        for (int i = 0; i < n; i++)
            Dot(frame, i, chart.Values[i], beyond.Contains(i), runs.Contains(i));

        return frame.Foot(first, last, "● piece   ■ beyond a limit   ○ eight in a row on one side" + (steps.Count > 0 ? "   │ step" : ""));
    }

    /// <summary>Moving ranges of two with their limit.</summary>
    public static Drawing Ranges(IndividualsChart chart, string first, string last, CultureInfo culture)
    {
        int n = chart.Values.Count;
        IReadOnlyList<int> beyond = chart.RangeOutside;
        ChartFrame frame = new(46, "Moving range: how far each piece is from the one before",
            $"Mean range {chart.MeanRange.ToString("F2", culture)}°, limit {chart.UpperRange.ToString("F2", culture)}°; {beyond.Count} beyond it.",
            0, Math.Max(chart.UpperRange, chart.Ranges.Max()), 0, n - 1, v => v.ToString("F1", culture) + "°");
        frame.Across(chart.UpperRange, "limit", new Stroke(0.4, Ink.Main, 2));
        frame.Across(chart.MeanRange, "mean", new Stroke(0.4));
        for (int i = 1; i < n; i++)
        {
            if (i > 1)
                frame.Drawing.Line(frame.X(i - 1), frame.Y(chart.Ranges[i - 2]), frame.X(i), frame.Y(chart.Ranges[i - 1]), new Stroke(0.2, Ink.Muted));
            Dot(frame, i, chart.Ranges[i - 1], beyond.Contains(i), false);
        }

        return frame.Foot(first, last, "● range   ■ beyond the limit");
    }

    /// <summary>The cumulative sum about the mean: level while nothing changes, a bend where it does.</summary>
    public static Drawing Sum(IReadOnlyList<double> sums, string first, string last, IReadOnlyList<ChartStep> steps, CultureInfo culture)
    {
        int n = sums.Count;
        ChartFrame frame = new(52, "Cumulative sum of the differences to the mean", $"From {ChartFrame.Signed(sums.Min(), 1, culture)}° to {ChartFrame.Signed(sums.Max(), 1, culture)}°.",
            Math.Min(0, sums.Min()), Math.Max(0, sums.Max()), 0, n - 1, v => ChartFrame.Signed(v, 1, culture) + "°", zeroLine: true);
        Steps(frame, steps, n);
        frame.Drawing.Polyline(sums.Select((s, i) => new Core.Quantities.Point2(frame.X(i), frame.Y(s))), new Stroke(0.5));
        return frame.Foot(first, last, "a lasting slope is a lasting change; its bend shows when");
    }

    private static void Steps(ChartFrame frame, IReadOnlyList<ChartStep> steps, int n)
    {
        foreach (ChartStep step in steps.Where(s => s.At > 0 && s.At < n))
        {
            double x = frame.X(step.At - 0.5);
            frame.Drawing.Line(x, frame.Top, x, frame.Bottom, new Stroke(0.5, Ink.Accent, 1.4)).Text(x, frame.Top + 2.6, step.Words, 3, TextAnchor.Middle, TextFace.Bold, Ink.Accent, backed: true);
        }
    }

    private static void Dot(ChartFrame frame, int i, double value, bool beyond, bool run)
    {
        (double x, double y) = (frame.X(i), frame.Y(value));
        if (beyond)
            frame.Drawing.Rectangle(x - 1, y - 1, 2, 2, Stroke.Thin, Ink.Main);
        else
            frame.Drawing.Circle(x, y, run ? 1 : 0.75, run ? new Stroke(0.4) : Stroke.Thin, run ? Ink.Paper : Ink.Main);
    }
}
