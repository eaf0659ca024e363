namespace Whetwright.Sight.Outlines;

/// <summary>How well a tip that the photo around it shows is known along the edge. Standard uncertainties, mm.</summary>
internal static class TipUncertainty
{
    /// <summary>Of the plainest tips. Chosen, from the errors on rendered photos.</summary>
    private const double LeastMm = 0.03;

    /// <summary>What a fit usually leaves unexplained of the paper's light where its own uncertainty is as large as its errors. Chosen, from the same.</summary>
    private const double UsualMisfit = 0.024;

    /// <summary>The part of what lies between such a tip and the place where the lines of edge and spine meet that is in doubt. Chosen, from the same.</summary>
    private const double OfBeside = 0.17;

    /// <summary>√(0.03² + (u·misfit/0.024)² + (0.17·beside)²): a model that leaves more of the photo unexplained is wrong by more than it knows.</summary>
    /// <param name="fitUMm">By the fit alone, its misfits taken for noise.</param>
    /// <param name="misfitShare">What the fit leaves unexplained, in the paper's light.</param>
    /// <param name="besideMm">How far along the edge the tip lies from where the lines meet.</param>
    public static double Mm(double fitUMm, double misfitShare, double besideMm)
    {
        double fit = fitUMm * misfitShare / UsualMisfit;
        double beside = OfBeside * besideMm;
        return Math.Sqrt((LeastMm * LeastMm) + (fit * fit) + (beside * beside));
    }
}
