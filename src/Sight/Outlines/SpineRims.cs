namespace Whetwright.Sight.Outlines;

/// <summary>
/// How high the two rims of a spine float over the mat. The edge lies in the steel's middle plane. A blade without a handle lies on its flank, so that the
/// spine touches the mat and is twice as thick as the edge is high; one that a handle lifts has a spine of usual thickness around the edge's height.
/// </summary>
/// <param name="EdgeHeelMm">Height of the edge at the heel.</param>
/// <param name="EdgeTipMm">The same at the tip.</param>
/// <param name="Lifted">Whether a handle lifts it.</param>
/// <param name="SpineMm">Thickness of the spine at the heel where it was told.</param>
internal readonly record struct SpineRims(double EdgeHeelMm, double EdgeTipMm, bool Lifted, double? SpineMm = null)
{
    /// <summary>Thickness of a spine at the heel where nothing tells it, and its spread. Chosen: knives of kitchens have 1 to 3.5 mm.</summary>
    private const double UsualThickMm = 2.1, UsualThickUMm = 0.6, ToldThickUMm = 0.1;

    /// <summary>A spine that nobody told tapers to this share at the tip. Chosen.</summary>
    private const double TipShare = 0.5;

    public double EdgeAt(double share) => EdgeHeelMm + ((EdgeTipMm - EdgeHeelMm) * share);

    /// <summary>Thickness of the spine at a share of the way from heel to tip.</summary>
    public double ThickAt(double share) => Lifted ? Math.Min(2 * EdgeAt(share), (SpineMm ?? UsualThickMm) * (1 + (((SpineMm is null ? TipShare : 2 * ToldHeight.TipOfSpine) - 1) * share))) : 2 * EdgeAt(share);

    public double TopAt(double share) => EdgeAt(share) + (ThickAt(share) / 2);

    public double LowAt(double share) => Math.Max(0, EdgeAt(share) - (ThickAt(share) / 2));

    /// <summary>The steel's sides are taken to part evenly from the edge over this share of the blade's height. Chosen.</summary>
    private const double WedgeShare = 0.8;

    /// <summary>Height of the rim that bounds the steel as seen: the upper one where the camera looks from the steel's side, else the lower one.</summary>
    /// <param name="share">From heel to tip.</param>
    /// <param name="view">How far outward a point appears per millimetre of its height.</param>
    /// <param name="depth">How deep behind the edge, as a share of the blade's height.</param>
    public double SeenAt(double share, double view, double depth = 1)
    {
        double half = ThickAt(share) / 2 * Math.Clamp(depth / WedgeShare, 0, 1);
        return Math.Max(0, EdgeAt(share) + (view > 0 ? half : -half));
    }

    /// <summary>How much the spine's seen rim rises per millimetre by which the edge is higher than thought.</summary>
    public double PerEdge(double view) => Lifted ? 1 : view > 0 ? 2 : 0;

    /// <summary>Standard uncertainty of the spine's seen rim for its thickness alone.</summary>
    public double ThickUMm => Lifted ? (SpineMm is null ? UsualThickUMm : ToldThickUMm) / 2 : 0;
}
