using Whetwright.Core.Metrology;

namespace Whetwright.Core.Abrasives;

/// <summary>One visit's rate, with the work the surface had done since it was dressed.</summary>
/// <param name="WorkSinceDressingMm2">Area taken off since the last dressing, before this visit, mm².</param>
/// <param name="AreaPerPassMm2">Rate of this visit.</param>
public readonly record struct RateSinceDressing(double WorkSinceDressingMm2, double AreaPerPassMm2);

/// <summary>Whether a surface cuts clearly worse than when it was dressed: the line of ln V over the work done since.</summary>
/// <param name="Dress">True where it should be dressed.</param>
/// <param name="LeftOfFresh">Rate now over rate fresh, from the line.</param>
/// <param name="ProbabilityFalling">That the line truly falls, one-sided, by Student's t.</param>
public sealed record DressWatch(bool Dress, double LeftOfFresh, double ProbabilityFalling)
{
    /// <summary>Below this share of the fresh rate a dressing pays (chosen, not derived).</summary>
    public const double WorthDressingBelow = 0.7;

    /// <summary>Sure enough to say so (chosen, not derived).</summary>
    public const double SureEnough = 0.95;

    /// <summary>Fits the line by least squares; null with fewer than four visits since the dressing or all at the same place.</summary>
    public static DressWatch? Of(IReadOnlyList<RateSinceDressing> visits)
    {
        int n = visits.Count;
        if (n < 4)
            return null;
        double mx = visits.Average(v => v.WorkSinceDressingMm2), my = visits.Average(v => Math.Log(v.AreaPerPassMm2));
        double sxx = 0, sxy = 0, syy = 0;
        foreach (RateSinceDressing v in visits)
        {
            double dx = v.WorkSinceDressingMm2 - mx, dy = Math.Log(v.AreaPerPassMm2) - my;
            (sxx, sxy, syy) = (sxx + (dx * dx), sxy + (dx * dy), syy + (dy * dy));
        }

        if (!(sxx > 0))
            return null;
        double slope = sxy / sxx;
        double residual = Math.Max(0, syy - (slope * sxy)) / (n - 2);
        double u = Math.Sqrt(residual / sxx);
        double within = u > 0 ? StudentT.ProbabilityWithin(Math.Abs(slope) / u, n - 2) : 1;
        double falling = slope < 0 ? (1 + within) / 2 : (1 - within) / 2;
        double left = Math.Exp(slope * (visits.Max(v => v.WorkSinceDressingMm2) - visits.Min(v => v.WorkSinceDressingMm2)));
        return new(falling >= SureEnough && left < WorthDressingBelow, left, falling);
    }
}
