using Whetwright.Core.Quantities;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Drawings;

/// <summary>
/// The one surface that all our pictures and sheets are drawn on: millimetres, origin top left, x right, y down. It only
/// collects; <see cref="SvgWriter"/> and <see cref="PdfWriter"/> put it out. Later things lie over earlier ones.
/// </summary>
public sealed class Drawing
{
    private readonly List<DrawingItem> items = [];

    /// <summary>An empty drawing.</summary>
    /// <param name="widthMm">Width, mm.</param>
    /// <param name="heightMm">Height, mm.</param>
    /// <param name="title">Name, for people who hear the page.</param>
    /// <param name="description">What the picture says, in a sentence with its numbers.</param>
    /// <exception cref="ArgumentOutOfRangeException">A side is not above zero.</exception>
    public Drawing(double widthMm, double heightMm, string title, string description = "")
    {
        WidthMm = Require.Positive(widthMm);
        HeightMm = Require.Positive(heightMm);
        ArgumentException.ThrowIfNullOrWhiteSpace(title);
        Title = title;
        Description = description;
    }

    /// <summary>Width, mm.</summary>
    public double WidthMm { get; }

    /// <summary>Height, mm.</summary>
    public double HeightMm { get; }

    /// <summary>Name of the drawing.</summary>
    public string Title { get; }

    /// <summary>What it says.</summary>
    public string Description { get; }

    /// <summary>What has been drawn, lowest first.</summary>
    public IReadOnlyList<DrawingItem> Items => items;

    /// <summary>A straight line.</summary>
    public Drawing Line(double x0Mm, double y0Mm, double x1Mm, double y1Mm, Stroke stroke) =>
        Add(new DrawingItem.Path([At(x0Mm, y0Mm), At(x1Mm, y1Mm)], false, stroke, null));

    /// <summary>A line through points.</summary>
    public Drawing Polyline(IEnumerable<Point2> pointsMm, Stroke stroke) =>
        Add(new DrawingItem.Path(Checked(pointsMm), false, stroke, null));

    /// <summary>A closed shape.</summary>
    public Drawing Polygon(IEnumerable<Point2> pointsMm, Stroke? stroke, Ink? fill = null) =>
        Add(new DrawingItem.Path(Checked(pointsMm), true, stroke, fill));

    /// <summary>An upright rectangle.</summary>
    public Drawing Rectangle(double xMm, double yMm, double widthMm, double heightMm, Stroke? stroke, Ink? fill = null) =>
        Polygon([new(xMm, yMm), new(xMm + widthMm, yMm), new(xMm + widthMm, yMm + heightMm), new(xMm, yMm + heightMm)], stroke, fill);

    /// <summary>Several closed contours filled as one area (even-odd rule).</summary>
    public Drawing Area(IEnumerable<IReadOnlyList<Point2>> contoursMm, Ink fill) =>
        Add(new DrawingItem.Area([.. contoursMm.Select(c => (IReadOnlyList<Point2>)Checked(c))], fill));

    /// <summary>A circle.</summary>
    public Drawing Circle(double xMm, double yMm, double radiusMm, Stroke? stroke, Ink? fill = null) =>
        Add(new DrawingItem.Circle(At(xMm, yMm), Require.NotNegative(radiusMm), stroke, fill));

    /// <summary>An arc; angles clockwise from +x as one sees it.</summary>
    public Drawing Arc(double xMm, double yMm, double radiusMm, double startDeg, double sweepDeg, Stroke stroke) =>
        Add(new DrawingItem.Arc(At(xMm, yMm), Require.NotNegative(radiusMm), Require.Finite(startDeg), Require.Finite(sweepDeg), stroke));

    /// <summary>A line of text; the point lies on its base line. Control characters become spaces. Empty text draws nothing.</summary>
    /// <param name="xMm">Place, mm.</param>
    /// <param name="yMm">Base line, mm.</param>
    /// <param name="words">The text.</param>
    /// <param name="sizeMm">Size of the em, mm; capitals are 0.73 of it.</param>
    /// <param name="anchor">Which point of the text stands at the place.</param>
    /// <param name="face">Cut.</param>
    /// <param name="ink">Ink.</param>
    /// <param name="turnDeg">Turn about the place, clockwise.</param>
    /// <param name="backed">Lay a patch of paper under it.</param>
    public Drawing Text(
        double xMm,
        double yMm,
        string words,
        double sizeMm,
        TextAnchor anchor = TextAnchor.Start,
        TextFace face = TextFace.Regular,
        Ink ink = Ink.Main,
        double turnDeg = 0,
        bool backed = false)
    {
        string clean = Printable.Of(words);
        return clean.Length == 0
            ? this
            : Add(new DrawingItem.Text(At(xMm, yMm), clean, Require.Positive(sizeMm), anchor, face, ink, Require.Finite(turnDeg), backed));
    }

    /// <summary>Text set in lines of a given width, from the first base line down; returns the base line after the last.</summary>
    public double Paragraph(
        double xMm,
        double yMm,
        double widthMm,
        string words,
        double sizeMm,
        TextFace face = TextFace.Regular,
        Ink ink = Ink.Main,
        double lineMm = 0,
        int maxLines = int.MaxValue)
    {
        double step = lineMm > 0 ? lineMm : sizeMm * 1.3;
        foreach (string line in FontMetrics.Of(face).Lines(Printable.Of(words), sizeMm, widthMm, maxLines))
        {
            Text(xMm, yMm, line, sizeMm, TextAnchor.Start, face, ink);
            yMm += step;
        }

        return yMm;
    }

    /// <summary>Parallel strokes that fill a closed shape (even-odd rule): steel that goes, told without colour.</summary>
    public Drawing Hatch(IReadOnlyList<Point2> polygonMm, double spacingMm, double slopeDeg, Stroke stroke)
    {
        foreach ((Point2 from, Point2 to) in Hatching.Of(Checked(polygonMm), Require.Positive(spacingMm), slopeDeg))
            Add(new DrawingItem.Path([from, to], false, stroke, null));
        return this;
    }

    /// <summary>Another drawing laid into this one.</summary>
    public Drawing Place(Drawing other, double xMm, double yMm, double scale = 1)
    {
        foreach (DrawingItem item in other.Items)
            items.Add(item.Moved(Require.Finite(xMm), Require.Finite(yMm), Require.Positive(scale)));
        return this;
    }

    private static Point2 At(double xMm, double yMm) => new(Require.Finite(xMm), Require.Finite(yMm));

    private static List<Point2> Checked(IEnumerable<Point2> pointsMm)
    {
        List<Point2> points = [.. pointsMm];
        foreach (Point2 point in points)
            At(point.X, point.Y);
        return points.Count >= 2 ? points : throw new ArgumentException("A line needs two points or more.", nameof(pointsMm));
    }

    private Drawing Add(DrawingItem item)
    {
        items.Add(item);
        return this;
    }
}
