namespace Whetwright.Sight.Outlines;

/// <summary>How well the heel's place along the edge is known, by what it was found from. Standard uncertainties, mm.</summary>
internal static class HeelUncertainty
{
    /// <summary>Of the best faces and corners. Chosen, from the errors on rendered photos.</summary>
    public const double LeastMm = 0.15;

    /// <summary>A face known by the outline alone, which may lie on a shadow's rim. Chosen, from the same.</summary>
    private const double OutlineMm = 0.5;

    /// <summary>A face whose outline scatters more than this about its line is torn. Chosen.</summary>
    public const double TornFromMm = 0.175;

    /// <summary>A torn face. Chosen, from the same.</summary>
    public const double TornMm = 1;

    /// <summary>No face: an unsharpened length goes on behind the edge and runs in over some millimetres. Chosen, not derived.</summary>
    private const double FacelessMm = 2;

    /// <summary>√(0.15² + doubt²) where the face was found under the light and shadows leave it in doubt by so much; else what such heels were off.</summary>
    /// <param name="face">The heel's face in the outline; null where it has none.</param>
    /// <param name="lit">The face under the light; null where it was not found.</param>
    /// <param name="besideMm">How far the heel was put from where the face's line meets the edge: half of it is in doubt, where that is more.</param>
    public static double Mm(HeelFace? face, SideLine? lit, double besideMm = 0) => Math.Max(besideMm > EdgeEnds.OnLineMm ? besideMm / 2 : 0, (face, lit) switch
    {
        (null, _) => FacelessMm,
        (_, { } line) => Math.Sqrt((LeastMm * LeastMm) + (line.DoubtMm * line.DoubtMm)),
        ({ ScatterMm: > TornFromMm }, null) => TornMm,
        _ => OutlineMm,
    });
}
