using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>Says which end of a blade a photo leaves in doubt, by how much, and what to do at the bench.</summary>
internal static class EndsInDoubt
{
    /// <summary>An end whose place has a larger standard uncertainty than this is spoken of, mm. Chosen, from the errors on rendered photos.</summary>
    public const double DoubtfulMm = 0.2;

    /// <summary>What is said of a blade's ends; nothing where both are known well.</summary>
    /// <param name="heelUMm">Standard uncertainty of the heel's place along the edge.</param>
    /// <param name="tipUMm">The same of the tip's.</param>
    public static IEnumerable<Reason> Of(double heelUMm, double tipUMm)
    {
        if (heelUMm > DoubtfulMm)
            yield return Doubt("heel", "where the edge begins at the heel", heelUMm);
        if (tipUMm > DoubtfulMm)
            yield return Doubt("tip", "where the edge ends at the tip", tipUMm);
    }

    private static Reason Doubt(string end, string what, double uMm) => new($"{end}-in-doubt", FormattableString.Invariant(
        $"The photo does not show plainly {what}: steel, shadow and paper look alike there. It may lie {2 * uMm:0.0} mm from where it is drawn, and the length with it. For better than that turn the blade or move the lamp, so that the {end} stands out from the paper, and take the photo again, or measure the length with a rule."));
}
