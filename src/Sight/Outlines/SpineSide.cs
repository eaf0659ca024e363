namespace Whetwright.Sight.Outlines;

/// <summary>
/// Sections across the spine of a blade whose edge is looked for. One room lights both sides: a lamp that shades the paper beside the spine leaves that beside the edge in its light, and
/// the sky is the same. The spine's own place stays open; only the light is shared.
/// </summary>
/// <param name="Sections">Light across the spine, turned against the edge's mean normal.</param>
/// <param name="Lifted">Whether a handle lifts the blade.</param>
/// <param name="SpineMm">Thickness of the spine at the heel where it was told.</param>
/// <param name="WallPerMm">How much of the spine's wall is seen outside its upper rim, per millimetre of thickness; negative where the camera looks from the edge's side.</param>
internal sealed record SpineSide(IReadOnlyList<EdgeProfile> Sections, bool Lifted, double? SpineMm, double WallPerMm)
{
    /// <summary>The light along the edge as it falls on the spine: lower and upper rim follow from the edge's height.</summary>
    /// <param name="edge">The light along the edge.</param>
    public EdgeLight Under(EdgeLight edge)
    {
        var rims = new SpineRims(edge.HeelMm, edge.TipMm, Lifted, SpineMm);
        return edge.WithSpine(rims.TopAt(0), rims.TopAt(1), WallPerMm * rims.ThickAt(0.5));
    }
}
