namespace Whetwright.Sight.Outlines;

/// <summary>A place that looks like a notch.</summary>
/// <param name="Notch">The notch that explains most of what is seen.</param>
/// <param name="Evidence">What speaks for it and against.</param>
/// <param name="ToldAtMm">Its middle along the strip as told.</param>
/// <param name="Told">Its shape as told.</param>
internal sealed record WeighedNotch(NotchFit Notch, ChipEvidence Evidence, double ToldAtMm, NotchShape Told);

/// <summary>What speaks for a notch of the edge and against a stain, a glint or a ragged line.</summary>
/// <param name="Explained">Share of what departs from the edge on both sides that a notch explains.</param>
/// <param name="AsStain">Share that a soft stain under an unbroken edge explains.</param>
/// <param name="OverNeighbours">The departure against the larger ones of its neighbourhood (eight in ten stay below), a ratio.</param>
/// <param name="Dip">How plainly the rim of what is dark along the edge steps inward there, in the spread that is usual around (<see cref="RimDips"/>, its foot).</param>
/// <param name="DeepDip">The same halfway down to the darkest: where the paper cannot be seen in a notch, the line is broken all the same.</param>
/// <param name="OverMottle">How much likelier a notch is there than mottle as it is elsewhere along the edge, natural logarithm (<see cref="MottledSteel"/>).</param>
/// <param name="Shape">The notch.</param>
internal sealed record ChipEvidence(double Explained, double AsStain, double OverNeighbours, double Dip, double DeepDip, double OverMottle, NotchShape Shape)
{
    private const double LeastUnexplained = 0.002;

    /// <summary>On a clean blade any stain stands out; more than this speaks for nothing. Chosen.</summary>
    private const double MostOver = 6;

    /// <summary>A rim that dips less is even, one that dips more speaks for nothing further. Chosen.</summary>
    private const double LeastDip = 0.5;
    private const double MostDip = 8;

    /// <summary>Less than this, and more than no notch at all, speaks for nothing; on even steel any sharp rim is likelier than mottle. Chosen.</summary>
    private const double LeastOverMottle = 0.5;
    private const double MostOverMottle = 60;

    // Logistic weights, fitted to the places at which the search stopped on 480 training photos of Darkroom with 648 chips of half a millimetre, six-fold judged (bench/Outlines/README.md).
    private const double Base = -7.54;
    private const double ForNotch = 1.43;
    private const double ForNeighbours = 2.34;
    private const double ForDip = 1.95;
    private const double ForDeepDip = 1.03;
    private const double ForOverMottle = 1.13;
    private const double ForDepth = -1.61;
    private const double ForBreadth = -0.95;

    /// <summary>How much less a notch leaves unexplained than a stain does, a ratio.</summary>
    public double OverStain => Math.Max(LeastUnexplained, 1 - AsStain) / Math.Max(LeastUnexplained, 1 - Explained);

    /// <summary>Natural logarithm of the odds that it is a chip, as on the training photos.</summary>
    public double LogOdds =>
        Base
        + (ForNotch * Math.Log(OverStain))
        + (ForNeighbours * Math.Log(Math.Clamp(OverNeighbours, 0.05, MostOver)))
        + (ForDip * Math.Log(Math.Clamp(Dip, LeastDip, MostDip)))
        + (ForDeepDip * Math.Log(Math.Clamp(DeepDip, LeastDip, MostDip)))
        + (ForOverMottle * Math.Log(Math.Clamp(OverMottle, LeastOverMottle, MostOverMottle)))
        + (ForDepth * Math.Log(Shape.DepthMm))
        + (ForBreadth * Math.Log(Shape.WidthMm / Shape.DepthMm));
}
