using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>What one visit of a piece measured; what was not measured is null. Standard uncertainties, k = 1.</summary>
/// <param name="Date">Day.</param>
/// <param name="LeftDeg">Left side, degrees from the mid-plane.</param>
/// <param name="LeftUDeg">Its standard uncertainty.</param>
/// <param name="RightDeg">Right side.</param>
/// <param name="RightUDeg">Its standard uncertainty.</param>
/// <param name="HeightMm">Height of the blade, mm.</param>
/// <param name="HeightUMm">Its standard uncertainty.</param>
public sealed record HistoryVisit(
    DateOnly Date, double? LeftDeg = null, double? LeftUDeg = null, double? RightDeg = null, double? RightUDeg = null, double? HeightMm = null, double? HeightUMm = null);

/// <summary>Angles per side with ±2u, and the height, over a piece's visits. Left and right differ in mark, line and word, not in colour alone.</summary>
public static class HistoryPicture
{
    private const double Left = 14;

    /// <summary>Draws the plots over a common scale of days.</summary>
    /// <param name="visits">The visits; any order.</param>
    /// <param name="style">Units and signs.</param>
    /// <param name="culture">Dates.</param>
    /// <param name="widthMm">Width, mm.</param>
    /// <param name="heightMm">Height, mm.</param>
    /// <exception cref="ArgumentException">No visit measured anything.</exception>
    public static Drawing Draw(IReadOnlyList<HistoryVisit> visits, SheetStyle style, CultureInfo culture, double widthMm = 120, double heightMm = 80)
    {
        HistoryVisit[] ordered = [.. visits.OrderBy(v => v.Date)];
        Point[] left = Series(ordered, v => v.LeftDeg, v => v.LeftUDeg);
        Point[] right = Series(ordered, v => v.RightDeg, v => v.RightUDeg);
        Point[] height = Series(ordered, v => v.HeightMm, v => v.HeightUMm);
        if (left.Length + right.Length + height.Length == 0)
            throw new ArgumentException("No visit measured an angle or the height: there is nothing to plot.", nameof(visits));
        var f = new Figures(style);
        var drawing = new Drawing(widthMm, heightMm, "Angles and height over the visits", Said(left, right, height, f, culture));
        (int first, int last) = (ordered[0].Date.DayNumber, ordered[^1].Date.DayNumber);
        double end = widthMm - 15;
        double X(int day) => last == first ? (Left + end) / 2 : Left + 4 + ((day - first) / (double)(last - first) * (end - Left - 8));
        double bottom = heightMm - 6;
        double split = height.Length == 0 ? bottom : left.Length + right.Length == 0 ? 2 : 4 + ((bottom - 4) * 0.6);
        if (left.Length + right.Length > 0)
            Panel(drawing, [(left, true, "left"), (right, false, "right")], X, 6, split, end, deg => f.Degrees(deg, 1), 0.5, "angle per side; bars are ± 2u");
        if (height.Length > 0)
            Panel(drawing, [(height, true, "")], X, split + 9, bottom, end, mm => f.LengthNumber(mm, 1), 0.2, "height, " + f.LengthUnit);
        drawing.Text(X(first), heightMm - 1.2, ordered[0].Date.ToString("d", culture), 2.8, last == first ? TextAnchor.Middle : TextAnchor.Start);
        if (last > first)
            drawing.Text(X(last), heightMm - 1.2, ordered[^1].Date.ToString("d", culture), 2.8, TextAnchor.End);
        return drawing;
    }

    private readonly record struct Point(DateOnly Date, double Value, double? U);

    private static Point[] Series(IEnumerable<HistoryVisit> visits, Func<HistoryVisit, double?> value, Func<HistoryVisit, double?> u) =>
        [.. visits.Where(v => value(v) is not null).Select(v => new Point(v.Date, Require.Finite(value(v)!.Value), u(v) is { } known ? Require.NotNegative(known) : null))];

    private static void Panel(
        Drawing drawing, (Point[] Points, bool Round, string Name)[] series, Func<int, double> x, double top, double bottom, double end, Func<double, string> number, double least, string title)
    {
        Point[] all = [.. series.SelectMany(s => s.Points)];
        double low = all.Min(p => p.Value - (2 * (p.U ?? 0)));
        double high = all.Max(p => p.Value + (2 * (p.U ?? 0)));
        double room = Math.Max((high - low) * 0.12, least);
        (low, high) = (low - room, high + room);
        double Y(double value) => bottom - ((value - low) / (high - low) * (bottom - top));
        drawing.Text(Left, top - 1.6, title, 2.8, TextAnchor.Start, TextFace.Bold);
        drawing.Line(Left, top, Left, bottom, Stroke.Thin).Line(Left, bottom, end, bottom, Stroke.Thin);
        double step = Step(high - low);
        for (double at = Math.Ceiling(low / step) * step; at <= high; at += step)
        {
            drawing.Line(Left, Y(at), end, Y(at), new Stroke(0.1, Ink.Faint));
            drawing.Text(Left - 1, Y(at) + 1, number(at), 2.8, TextAnchor.End);
        }

        double lastLabel = double.NaN;
        foreach ((Point[] points, bool round, string name) in series.Where(s => s.Points.Length > 0).OrderByDescending(s => s.Points[^1].Value))
        {
            Ink ink = round ? Ink.Accent : Ink.Main;
            Point2[] line = [.. points.Select(p => new Point2(x(p.Date.DayNumber) + (name.Length == 0 ? 0 : round ? -0.5 : 0.5), Y(p.Value)))];
            if (line.Length > 1)
                drawing.Polyline(line, new Stroke(0.45, ink, round ? null : 1.4));
            for (int i = 0; i < points.Length; i++)
                Mark(drawing, line[i], points[i], Y, round, ink);
            double label = Y(points[^1].Value) + 1;
            if (!double.IsNaN(lastLabel) && label - lastLabel < 3.2)
                label = lastLabel + 3.2;
            lastLabel = label;
            drawing.Text(end + 0.8, label, name.Length > 0 ? name : number(points[^1].Value), 3, TextAnchor.Start, TextFace.Bold, ink);
        }
    }

    private static void Mark(Drawing drawing, Point2 at, Point point, Func<double, double> y, bool round, Ink ink)
    {
        if (point.U is { } u)
        {
            (double high, double low) = (y(point.Value + (2 * u)), y(point.Value - (2 * u)));
            var bar = new Stroke(0.3, ink);
            drawing.Line(at.X, high, at.X, low, bar).Line(at.X - 0.8, high, at.X + 0.8, high, bar).Line(at.X - 0.8, low, at.X + 0.8, low, bar);
        }

        if (round)
            drawing.Circle(at.X, at.Y, 1.1, new Stroke(0.3, ink), ink);
        else
            drawing.Polygon([new(at.X, at.Y - 1.4), new(at.X + 1.3, at.Y + 1), new(at.X - 1.3, at.Y + 1)], new Stroke(0.35, ink), Ink.Paper);
    }

    private static double Step(double span)
    {
        double[] steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50];
        return steps.FirstOrDefault(s => span / s <= 5, 100);
    }

    private static string Said(Point[] left, Point[] right, Point[] height, Figures f, CultureInfo culture)
    {
        List<string> said = [];
        foreach ((Point[] points, string name) in ((Point[], string)[])[(left, "left"), (right, "right")])
        {
            if (points.Length > 0)
                said.Add($"{name} from {f.Degrees(points[0].Value)} on {points[0].Date.ToString("d", culture)} to {f.Degrees(points[^1].Value, points[^1].U)} on {points[^1].Date.ToString("d", culture)}");
        }

        if (height.Length > 0)
            said.Add($"height from {f.Length(height[0].Value)} to {f.Length(height[^1].Value)}");
        return string.Join("; ", said) + ".";
    }
}
