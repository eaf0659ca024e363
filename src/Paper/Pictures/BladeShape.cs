using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>A blade in section with its holder, for the rig from the side.</summary>
internal static class BladeShape
{
    /// <summary>Draws the blade from its edge along its mid-plane, and the holder from the jaw to behind the support.</summary>
    /// <param name="drawing">Where.</param>
    /// <param name="frame">World to drawing.</param>
    /// <param name="view">Sizes.</param>
    /// <param name="edge">The edge, world.</param>
    /// <param name="u">Along the mid-plane, edge to spine.</param>
    /// <param name="n">Across it, away from the abrasive.</param>
    /// <param name="holderHalfMm">Half the holder's thickness.</param>
    internal static void Draw(Drawing drawing, PictureFrame frame, RigView view, Point2 edge, Vector2 u, Vector2 n, double holderHalfMm)
    {
        Point2 At(double s, double t) => frame.At(edge + (u * s) + (n * t));
        double half = Math.Max(view.SpineMm / 2, 0.5 / frame.Scale);
        if (view.ProtrusionMm is { } jaw && jaw < view.SupportDistanceMm)
        {
            double back = view.SupportDistanceMm + 6;
            double lip = Math.Max(half * 2, holderHalfMm * 0.45);
            double grip = Math.Min(jaw + 14, view.SupportDistanceMm);
            drawing.Polygon(
                [At(jaw, -lip), At(grip, -holderHalfMm), At(back, -holderHalfMm), At(back, holderHalfMm), At(grip, holderHalfMm), At(jaw, lip)],
                Stroke.Outline,
                Ink.Paper);
        }

        drawing.Polygon([At(0, 0), At(view.BladeHeightMm, -half), At(view.BladeHeightMm, half)], Stroke.Outline, Ink.Steel);
        Point2 from = At(0, 0);
        Point2 to = At(view.SupportDistanceMm, 0);
        drawing.Line(from.X, from.Y, to.X, to.Y, new Stroke(0.2, Ink.Muted, 1.5));
    }
}
