using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>Where the photo around a tip, or a heel's corner, shows it to be.</summary>
/// <param name="Place">The tip as it appears on the mat.</param>
/// <param name="UMm">Its standard uncertainty along the edge.</param>
/// <param name="Along">The edge's direction there, beyond the tip.</param>
/// <param name="MisfitShare">What the model leaves unexplained, in the paper's light.</param>
/// <param name="Best">The best fit.</param>
/// <param name="FaceView">How far the spine appears moved outward, square to its line, per millimetre of height: where negative the camera looks at the spine's own side.</param>
internal sealed record SeenTip(Point2 Place, double UMm, Vector2 Along, double MisfitShare, TipFit.Fitted Best, double FaceView)
{
    /// <summary>A tip that the patch leaves in more doubt than this is not taken from it, mm. Chosen.</summary>
    public const double DoubtfulMm = 0.6;

    /// <summary>Nor one from a patch of which more than this of the paper's light is left unexplained. Chosen.</summary>
    public const double UnexplainedShare = 0.08;

    /// <summary>The edge's line gives way to what the patch shows of it from so far before the tip, wholly from here on, mm. Chosen.</summary>
    private const double GiveWayFromMm = 6, GiveWayToMm = 3;

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

    /// <summary>Whether the patch tells enough to take the place from it.</summary>
    public bool Tells => UMm < DoubtfulMm && MisfitShare < UnexplainedShare && !ShowsItsSide;

    /// <summary>A line ended here; null where its end is far off.</summary>
    /// <param name="line">Its stations, this end last.</param>
    public Point2[]? Ended(Point2[] line)
    {
        Point2[] moved = [.. line.Select(p =>
        {
            double before = (Place - p).Dot(Along);
            double share = before > GiveWayFromMm || before < -GiveWayFromMm ? 0 : Math.Min(1, (GiveWayFromMm - before) / (GiveWayFromMm - GiveWayToMm));
            return p + ((EdgeBeside(p) - p) * share);
        })];
        return EdgeEnds.Ended(moved, new(Place, Along), Place);
    }
}
