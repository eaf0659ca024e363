using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>A coming day: minutes promised, minutes there are.</summary>
/// <param name="Date">Day.</param>
/// <param name="PromisedMinutes">Bench minutes promised for it.</param>
/// <param name="BenchMinutes">Bench minutes it has; zero for a day off.</param>
public sealed record LoadDay(DateOnly Date, double PromisedMinutes, double BenchMinutes);

/// <summary>The load of coming days as bars: what is over the day's time stands past a line, hatched, and in words.</summary>
public static class LoadPicture
{
    /// <summary>Draws a row a day.</summary>
    /// <exception cref="ArgumentException">No day.</exception>
    public static Drawing Draw(IReadOnlyList<LoadDay> days, CultureInfo culture, double widthMm = 100)
    {
        if (days.Count == 0)
            throw new ArgumentException("There is no day to show.", nameof(days));
        const double row = 6.4;
        LoadDay[] over = [.. days.Where(d => d.PromisedMinutes > d.BenchMinutes)];
        string said = over.Length == 0 ? "No day is over its time." : "Over: " + string.Join(", ", over.Select(d => Day(d.Date, culture))) + ".";
        var drawing = new Drawing(widthMm, (days.Count * row) + 1, "Load of the coming days", said);
        const double left = 20;
        double right = widthMm - 29;
        double most = Math.Max(days.Max(d => Math.Max(Require.NotNegative(d.PromisedMinutes), Require.NotNegative(d.BenchMinutes))), 1);
        double scale = (right - left) / most;
        for (int i = 0; i < days.Count; i++)
        {
            LoadDay day = days[i];
            double y = (i * row) + 1;
            drawing.Text(left - 1.5, y + 3.6, Day(day.Date, culture), 3, TextAnchor.End);
            double within = Math.Min(day.PromisedMinutes, day.BenchMinutes) * scale;
            double past = day.PromisedMinutes * scale;
            if (within > 0)
                drawing.Rectangle(left, y + 0.6, within, 4, new Stroke(0.2), Ink.Accent);
            if (past > within)
            {
                Point2[] rest = [new(left + within, y + 0.6), new(left + past, y + 0.6), new(left + past, y + 4.6), new(left + within, y + 4.6)];
                drawing.Polygon(rest, new Stroke(0.3), Ink.Paper).Hatch(rest, 1, 45, new Stroke(0.25));
            }

            if (day.BenchMinutes > 0)
                drawing.Line(left + (day.BenchMinutes * scale), y - 0.2, left + (day.BenchMinutes * scale), y + 5.4, new Stroke(0.5));
            bool late = day.PromisedMinutes > day.BenchMinutes;
            string words = day.BenchMinutes == 0 && !late ? "no bench"
                : late ? $"{Minutes(day.PromisedMinutes - day.BenchMinutes, culture)} min over"
                : $"{Minutes(day.BenchMinutes - day.PromisedMinutes, culture)} min free";
            drawing.Text(widthMm - 0.5, y + 3.6, words, 3, TextAnchor.End, late ? TextFace.Bold : TextFace.Regular);
        }

        return drawing;
    }

    private static string Minutes(double minutes, CultureInfo culture) => Math.Round(minutes).ToString("0", culture);

    private static string Day(DateOnly date, CultureInfo culture) => date.ToString(
        "ddd " + culture.DateTimeFormat.MonthDayPattern.Replace("MMMM", "MMM", StringComparison.Ordinal), culture);
}
