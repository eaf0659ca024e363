namespace Whetwright.Sight.Outlines;

/// <summary>What speaks for a notch of the edge and against a stain, a glint or a ragged line.</summary>
/// <param name="Explained">Share of what departs from the edge on both sides that a notch explains.</param>
/// <param name="AsStain">Share that a soft stain under an unbroken edge explains.</param>
/// <param name="OverNeighbours">The departure against the larger ones of its neighbourhood (eight in ten stay below), a ratio.</param>
/// <param name="Broken">How plainly the edge's dark line is broken there, in the spread that is usual around (<see cref="EdgeBreaks"/>).</param>
/// <param name="OverMottle">How much likelier a notch is there than mottle as it is elsewhere along the edge, natural logarithm (<see cref="MottledSteel"/>).</param>
/// <param name="Opened">How much of the paper's light is seen in it.</param>
/// <param name="Shape">The notch.</param>
internal sealed record ChipEvidence(double Explained, double AsStain, double OverNeighbours, double Broken, double OverMottle, double Opened, NotchShape Shape)
{
    private const double LeastUnexplained = 0.002;

    /// <summary>On a clean blade any stain stands out; more than this speaks for nothing. Chosen.</summary>
    private const double MostOver = 6;

    /// <summary>A line that is broken less is not broken, one that is broken more speaks for nothing further: on a clean blade any stain breaks it. Chosen.</summary>
    private const double LeastBroken = 0.5;
    private const double MostBroken = 6;

    /// <summary>A notch that shows less of the paper's light is suspect. Chosen.</summary>
    private const double UsuallyOpened = 0.9;

    /// <summary>Less than this, and more than no notch at all, speaks for nothing; on even steel any sharp rim is likelier than mottle. Chosen.</summary>
    private const double LeastOverMottle = 0.5;
    private const double MostOverMottle = 60;

    // Logistic weights, fitted to the places at which the search stopped on 437 training photos of Darkroom with 478 chips of half a millimetre, six-fold judged (bench/Outlines/README.md).
    private const double Base = -6.47;
    private const double ForNotch = 2.72;
    private const double ForNeighbours = 2.18;
    private const double ForBroken = 1.58;
    private const double ForOverMottle = 1.16;
    private const double ForClosed = -4.9;
    private const double ForDepth = -0.77;
    private const double ForBreadth = -0.71;

    /// <summary>Natural logarithm of the odds that it is a chip, as on the training photos.</summary>
    public double LogOdds =>
        Base
        + (ForNotch * Math.Log(Math.Max(LeastUnexplained, 1 - AsStain) / Math.Max(LeastUnexplained, 1 - Explained)))
        + (ForNeighbours * Math.Log(Math.Clamp(OverNeighbours, 0.05, MostOver)))
        + (ForBroken * Math.Log(Math.Clamp(Broken, LeastBroken, MostBroken)))
        + (ForOverMottle * Math.Log(Math.Clamp(OverMottle, LeastOverMottle, MostOverMottle)))
        + (ForClosed * Math.Max(0, UsuallyOpened - Opened))
        + (ForDepth * Math.Log(Shape.DepthMm))
        + (ForBreadth * Math.Log(Shape.WidthMm / Shape.DepthMm));
}
