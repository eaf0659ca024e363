using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>The frame of a chart over pieces or days: axis, three marks, first and last name. Sized for a phone's width.</summary>
internal sealed class ChartFrame
{
    public const double Width = 92, Left = 14, Right = 90;

    private readonly double low;
    private readonly double high;
    private readonly double from;
    private readonly double to;

    /// <summary>A frame that holds the values from low to high with a little room.</summary>
    public ChartFrame(double heightMm, string title, string said, double lowest, double highest, double fromX, double toX, Func<double, string> mark, bool zeroLine = false)
    {
        Drawing = new Drawing(Width, heightMm, title, said);
        (Top, Bottom) = (4, heightMm - 10);
        double room = Math.Max((highest - lowest) * 0.06, 1e-9 + (Math.Abs(highest) * 0.001));
        (low, high, from, to) = (lowest - room, highest + room, fromX, toX > fromX ? toX : fromX + 1);
        Drawing.Line(Left, Bottom, Right, Bottom, new Stroke(0.2, Ink.Muted)).Line(Left, Top, Left, Bottom, new Stroke(0.2, Ink.Muted));
        for (int i = 0; i <= 3; i++)
        {
            double value = lowest + ((highest - lowest) * i / 3);
            Drawing.Line(Left, Y(value), Right, Y(value), new Stroke(0.12, Ink.Faint, 0.8)).Text(Left - 1, Y(value) + 1.1, mark(value), 3, TextAnchor.End);
        }

        if (zeroLine && low < 0 && high > 0)
            Drawing.Line(Left, Y(0), Right, Y(0), new Stroke(0.2, Ink.Muted));
    }

    public Drawing Drawing { get; }

    public double Top { get; }

    public double Bottom { get; }

    public double X(double at) => Left + 2 + ((Right - Left - 4) * (at - from) / (to - from));

    public double Y(double value) => Bottom - ((Bottom - Top) * (value - low) / (high - low));

    /// <summary>A limit across the chart with its word at the right.</summary>
    public void Across(double value, string words, Stroke stroke, bool below = false)
    {
        if (value < low || value > high)
            return;
        Drawing.Line(Left, Y(value), Right, Y(value), stroke).Text(Right, Y(value) + (below ? 3 : -0.8), words, 2.8, TextAnchor.End, TextFace.Condensed, stroke.Ink == Ink.Accent ? Ink.Accent : Ink.Main, backed: true);
    }

    /// <summary>Names of the first and the last, and the legend between.</summary>
    public Drawing Foot(string first, string last, string legend)
    {
        Drawing.Text(Left, Bottom + 4, first, 3).Text(Right, Bottom + 4, last, 3, TextAnchor.End);
        if (legend.Length > 0)
            Drawing.Text((Left + Right) / 2, Bottom + 8.4, legend, 2.8, TextAnchor.Middle, TextFace.Condensed);
        return Drawing;
    }

    public static string Signed(double value, int decimals, CultureInfo culture)
    {
        double rounded = Math.Round(value, decimals);
        string digits = Math.Abs(rounded).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), culture);
        return rounded > 0 ? "+" + digits : rounded < 0 ? "−" + digits : digits;
    }
}
