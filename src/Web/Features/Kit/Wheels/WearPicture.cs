using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;
using Whetwright.Records.Kit;

namespace Whetwright.Web.Features.Kit.Wheels;

/// <summary>A wheel's diameter over the days: a dot a measurement with ± 2u, a square after dressing, a ring for a new wheel.</summary>
internal static class WearPicture
{
    public static Drawing Draw(IReadOnlyList<DiameterEntry> entries, double? minimumMm, SheetStyle style, CultureInfo culture, Func<DateTime, DateOnly> day)
    {
        const double width = 92, height = 58, left = 15, right = 89, top = 5, bottom = 47;
        Figures figures = new(style);
        DateTime first = entries[0].HappenedAt, last = entries[^1].HappenedAt;
        double days = Math.Max((last - first).TotalDays, 1);
        double low = Math.Min(entries.Min(e => e.DiameterMm - (2 * e.UMm)), minimumMm ?? double.MaxValue);
        double high = entries.Max(e => e.DiameterMm + (2 * e.UMm));
        double room = Math.Max((high - low) * 0.06, 0.2);
        (low, high) = (low - room, high + room);
        double X(DateTime at) => left + ((right - left) * (at - first).TotalDays / days);
        double Y(double mm) => bottom - ((bottom - top) * (mm - low) / (high - low));
        Drawing drawing = new(width, height, "Diameter over the days", $"From {figures.Length(entries[0].DiameterMm)} on {day(first).ToString("d", culture)} to {figures.Length(entries[^1].DiameterMm)} on {day(last).ToString("d", culture)}, {entries.Count} measurements.");
        Stroke thin = new(0.2, Ink.Muted);
        drawing.Line(left, bottom, right, bottom, thin).Line(left, top, left, bottom, thin);
        for (int i = 0; i <= 3; i++)
        {
            double mm = low + room + ((high - low - (2 * room)) * i / 3);
            drawing.Line(left, Y(mm), right, Y(mm), new Stroke(0.12, Ink.Faint, 0.8)).Text(left - 1, Y(mm) + 1.1, figures.LengthNumber(mm), 3, TextAnchor.End);
        }

        drawing.Text(left - 1, height - 1, figures.LengthUnit, 3, TextAnchor.End);
        drawing.Text(left, bottom + 4.5, day(first).ToString("d", culture), 3).Text(right, bottom + 4.5, day(last).ToString("d", culture), 3, TextAnchor.End);
        drawing.Text((left + right) / 2, height - 1, "● measured   ■ dressed   ○ new wheel", 3, TextAnchor.Middle);
        if (minimumMm is { } least)
            drawing.Line(left, Y(least), right, Y(least), new Stroke(0.5, Ink.Accent, 2)).Text(right, Y(least) - 1, "smallest to use", 3, TextAnchor.End, TextFace.Bold, Ink.Accent, backed: true);
        for (int i = 0; i < entries.Count; i++)
        {
            DiameterEntry entry = entries[i];
            (double x, double y) = (X(entry.HappenedAt), Y(entry.DiameterMm));
            if (i > 0 && entry.Cause != DiameterCause.New)
                drawing.Line(X(entries[i - 1].HappenedAt), Y(entries[i - 1].DiameterMm), x, y, new Stroke(0.35));
            drawing.Line(x, Y(entry.DiameterMm - (2 * entry.UMm)), x, Y(entry.DiameterMm + (2 * entry.UMm)), new Stroke(0.25, Ink.Muted));
            if (entry.Cause == DiameterCause.Dressed)
                drawing.Rectangle(x - 0.9, y - 0.9, 1.8, 1.8, Stroke.Thin, Ink.Main);
            else
                drawing.Circle(x, y, 0.9, Stroke.Thin, entry.Cause == DiameterCause.New ? Ink.Paper : Ink.Main);
        }

        return drawing;
    }
}
