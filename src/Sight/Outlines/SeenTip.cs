using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>Where the photo around a tip shows it to be.</summary>
/// <param name="Place">The tip as it appears on the mat.</param>
/// <param name="UMm">Its standard uncertainty along the edge.</param>
/// <param name="Along">The edge's direction there, beyond the tip.</param>
/// <param name="MisfitShare">What the model leaves unexplained, in the paper's light.</param>
/// <param name="Best">The best fit.</param>
/// <param name="FaceView">How far the spine appears moved outward, square to its line, per millimetre of height: where negative the camera looks at the spine's own side.</param>
internal sealed record SeenTip(Point2 Place, double UMm, Vector2 Along, double MisfitShare, TipFit.Fitted Best, double FaceView)
{
    /// <summary>A blunt end's own side is as thick at the edge's end as anywhere, and looked at from the side it is seen beside the steel's upper face: the model has none. Chosen: from 75° and 0.2 mm per mm.</summary>
    public bool ShowsItsSide => Best.Shape.AngleRad > 1.3 && FaceView < -0.2;

    /// <summary>Where the shape's frame stands.</summary>
    internal required (Point2 At, Vector2 X, Vector2 Y) Frame { get; init; }

    /// <summary>The edge's place beside a point, as the patch shows it.</summary>
    public Point2 EdgeBeside(Point2 p)
    {
        double u = (p - Frame.At).Dot(Frame.X);
        return Frame.At + (Frame.X * u) + (Frame.Y * Best.Shape.EdgeAt(u));
    }
}
