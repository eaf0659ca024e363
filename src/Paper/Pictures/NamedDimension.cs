using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>A dimension on a drawing, named by a letter. The one to dial is thicker, larger and says so in words.</summary>
/// <param name="Letter">Letter on the drawing.</param>
/// <param name="Name">What it is.</param>
/// <param name="ValueMm">What it measures, mm.</param>
/// <param name="From">Start of the arrow, drawing.</param>
/// <param name="To">End of the arrow.</param>
/// <param name="FromThing">What its start belongs to; null where it lies on it.</param>
/// <param name="ToThing">What its end belongs to.</param>
/// <param name="Dial">The one to dial.</param>
/// <param name="Outside">The letter stands past the arrow's end: there is no room on it.</param>
internal sealed record NamedDimension(
    string Letter, string Name, double ValueMm, Point2 From, Point2 To, Point2? FromThing = null, Point2? ToThing = null, bool Dial = false, bool Outside = false)
{
    internal void Draw(Drawing drawing)
    {
        Ink ink = Dial ? Ink.Accent : Ink.Main;
        var extension = new Stroke(0.15, ink, 0.8);
        foreach ((Point2? thing, Point2 end) in ((Point2?, Point2)[])[(FromThing, From), (ToThing, To)])
        {
            if (thing is { } at && at.DistanceTo(end) > 0.3)
                drawing.Line(at.X, at.Y, end.X, end.Y, extension);
        }

        double length = From.DistanceTo(To);
        if (length > 0.3)
            Dimension.Arrow(drawing, From, To, new Stroke(Dial ? 0.7 : 0.3, ink), headMm: Math.Min(Dial ? 3 : 1.8, length / 2));
        double size = Dial ? 5.4 : 3.8;
        Vector2 along = length > 1e-6 ? (To - From).Normalized() : new(1, 0);
        Point2 place = Outside ? To + (along * 3) : new((From.X + To.X) / 2, (From.Y + To.Y) / 2);
        double half = FontMetrics.Of(TextFace.Bold).WidthMm(Letter, size) / 2;
        double x = Math.Clamp(place.X, half + 0.6, drawing.WidthMm - half - 0.6);
        double y = Math.Clamp(place.Y + (size * 0.36), size * 0.8, drawing.HeightMm - 0.5);
        drawing.Text(x, y, Letter, size, TextAnchor.Middle, TextFace.Bold, ink, backed: true);
    }

    internal void Key(Drawing drawing, double y, Figures figures) =>
        Key(drawing, y, Letter, Dial ? Name + ": to dial" : Name, figures.Length(ValueMm, Dial ? 2 : 1), Dial);

    internal static void Key(Drawing drawing, double y, string letter, string name, string value, bool dial)
    {
        Ink ink = dial ? Ink.Accent : Ink.Main;
        TextFace face = dial ? TextFace.Bold : TextFace.Regular;
        double room = drawing.WidthMm - 2 - FontMetrics.Of(TextFace.Bold).WidthMm(value, 3.4);
        drawing.Text(1, y, letter, 3.4, TextAnchor.Start, TextFace.Bold, ink);
        drawing.Text(6, y, name, FontMetrics.Of(face).SizeToFit(name, 3.3, room - 8), TextAnchor.Start, face, ink);
        drawing.Text(drawing.WidthMm - 1, y, value, 3.4, TextAnchor.End, TextFace.Bold, ink);
    }
}
