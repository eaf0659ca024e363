namespace Whetwright.Sight.Outlines;

/// <summary>What speaks for a notch of the edge and against a stain, a glint or a ragged line.</summary>
/// <param name="Explained">Share of what departs from the edge on both sides that a notch explains.</param>
/// <param name="AtEdge">The same of what departs around the edge itself.</param>
/// <param name="AsStain">Share that a soft stain under an unbroken edge explains.</param>
/// <param name="OverNeighbours">The departure against the larger ones of its neighbourhood (eight in ten stay below), a ratio.</param>
/// <param name="Patchy">Those against what is usual along the whole blade (median), a ratio.</param>
/// <param name="Likes">How many places of its neighbourhood look about as much like a notch without being one that is well explained.</param>
internal sealed record ChipEvidence(double Explained, double AtEdge, double AsStain, double OverNeighbours, double Patchy, int Likes)
{
    private const double LeastUnexplained = 0.001;
    private const double LeastUnexplainedAtEdge = 0.02;
    private const int MostLikes = 4;

    /// <summary>On a clean blade any stain stands out; more than this speaks for nothing. Chosen.</summary>
    private const double MostOver = 6;

    // Logistic weights, fitted to the 718 places at which the search stopped on 192 training photos of Darkroom, 237 of them at chips; ForNotch
    // was chosen, that a lone stain on a clean blade is none.
    private const double Base = -2.26;
    private const double ForNotch = 0.80;
    private const double ForFit = 0.71;
    private const double ForEdge = 0.82;
    private const double ForNeighbours = 1.40;
    private const double ForPatchy = -3.80;
    private const double ForLikes = -0.39;

    /// <summary>Natural logarithm of the odds that it is a chip, as on the training photos.</summary>
    public double LogOdds =>
        Base
        + (ForNotch * Math.Log(Unexplained(AsStain) / Unexplained(Explained)))
        - (ForFit * Math.Log(Unexplained(Explained)))
        - (ForEdge * Math.Log(Math.Max(LeastUnexplainedAtEdge, 1 - AtEdge)))
        + (ForNeighbours * Math.Log(Math.Min(MostOver, OverNeighbours)))
        + (ForPatchy * Math.Log(Patchy))
        + (ForLikes * Math.Min(MostLikes, Likes));

    private static double Unexplained(double explained) => Math.Max(LeastUnexplained, 1 - explained);
}
