using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>A value on a day.</summary>
/// <param name="At">When, UTC.</param>
/// <param name="Value">The value.</param>
/// <param name="U">Its standard uncertainty.</param>
/// <param name="Square">Drawn as a square instead of a dot.</param>
public readonly record struct TimePoint(DateTime At, double Value, double U, bool Square = false);

/// <summary>What is expected on a day, with the interval that holds the next measurement.</summary>
/// <param name="At">When, UTC.</param>
/// <param name="Value">Expected.</param>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public readonly record struct TimeBand(DateTime At, double Value, double Low, double High);

/// <summary>Values over days with bars of ± 2u; a limit; a forecast as a dashed line in a hatched band.</summary>
public static class TimePicture
{
    /// <summary>Draws it.</summary>
    /// <param name="title">Title.</param>
    /// <param name="points">Measured, oldest first; one at least.</param>
    /// <param name="limit">A limit and its word.</param>
    /// <param name="band">Forecast, in order; may be empty.</param>
    /// <param name="mark">A value as the person reads it.</param>
    /// <param name="day">A day as the person reads it.</param>
    /// <param name="legend">Under the chart.</param>
    /// <param name="zero">Draw the line of zero, and hold it in view.</param>
    /// <exception cref="ArgumentException">No point.</exception>
    public static Drawing Draw(
        string title, IReadOnlyList<TimePoint> points, (double Value, string Words)? limit, IReadOnlyList<TimeBand> band, Func<double, string> mark, Func<DateTime, string> day, string legend, bool zero = false)
    {
        if (points.Count == 0)
            throw new ArgumentException("There is no value to draw.", nameof(points));
        DateTime first = points[0].At, last = band.Count > 0 && band[^1].At > points[^1].At ? band[^1].At : points[^1].At;
        List<double> seen = [.. points.SelectMany(p => new[] { p.Value - (2 * p.U), p.Value + (2 * p.U) }), .. band.SelectMany(b => new[] { b.Low, b.High })];
        if (limit is { } held)
            seen.Add(held.Value);
        if (zero)
            seen.Add(0);
        ChartFrame frame = new(60, title, $"From {mark(points[0].Value)} on {day(first)} to {mark(points[^1].Value)} on {day(points[^1].At)}, {points.Count} measurements.",
            seen.Min(), seen.Max(), 0, Math.Max((last - first).TotalDays, 1), mark, zero);
        double X(DateTime at) => frame.X((at - first).TotalDays);
        if (band.Count > 1)
        {
            Point2[] outline = [.. band.Select(b => new Point2(X(b.At), frame.Y(b.High))), .. band.Reverse().Select(b => new Point2(X(b.At), frame.Y(b.Low)))];
            frame.Drawing.Hatch(outline, 1.4, 45, new Stroke(0.12, Ink.Muted)).Polyline(band.Select(b => new Point2(X(b.At), frame.Y(b.Value))), new Stroke(0.45, Ink.Main, 1.6));
        }

        if (limit is { } line)
            frame.Across(line.Value, line.Words, new Stroke(0.5, Ink.Accent, 2));
        foreach (TimePoint p in points)
        {
            (double x, double y) = (X(p.At), frame.Y(p.Value));
            frame.Drawing.Line(x, frame.Y(p.Value - (2 * p.U)), x, frame.Y(p.Value + (2 * p.U)), new Stroke(0.25, Ink.Muted));
            if (p.Square)
                frame.Drawing.Rectangle(x - 0.9, y - 0.9, 1.8, 1.8, Stroke.Thin, Ink.Main);
            else
                frame.Drawing.Circle(x, y, 0.85, Stroke.Thin, Ink.Main);
        }

        return frame.Foot(day(first), day(last), legend);
    }
}
