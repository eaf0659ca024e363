using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>What the regression needs to know of a steel: hardness and carbide volumes in percent.</summary>
/// <param name="HardnessHrc">Rockwell C hardness.</param>
public sealed record SteelData(double HardnessHrc)
{
    /// <summary>Cementite, Fe3C, vol %.</summary>
    public double CementitePercent { get; init; }

    /// <summary>Chromium carbide, Cr7C3 or Cr23C6, vol %.</summary>
    public double ChromiumCarbidePercent { get; init; }

    /// <summary>Vanadium-enriched chromium carbide, vol %.</summary>
    public double ChromiumVanadiumCarbidePercent { get; init; }

    /// <summary>Vanadium or niobium carbide, MC, vol %.</summary>
    public double VanadiumCarbidePercent { get; init; }

    /// <summary>Tungsten/molybdenum carbide, M6C, vol %.</summary>
    public double TungstenCarbidePercent { get; init; }

    /// <summary>Vanadium nitride, MN, vol %.</summary>
    public double VanadiumNitridePercent { get; init; }

    /// <summary>Chromium nitride, vol %.</summary>
    public double ChromiumNitridePercent { get; init; }

    /// <summary>Throws on the first value that is no number or out of range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Names the field.</exception>
    public void Validate()
    {
        Require.Within(HardnessHrc, 20, 70, "hardnessHrc");
        Require.Within(CementitePercent, 0, 40, "cementitePercent");
        Require.Within(ChromiumCarbidePercent, 0, 40, "chromiumCarbidePercent");
        Require.Within(ChromiumVanadiumCarbidePercent, 0, 40, "chromiumVanadiumCarbidePercent");
        Require.Within(VanadiumCarbidePercent, 0, 40, "vanadiumCarbidePercent");
        Require.Within(TungstenCarbidePercent, 0, 40, "tungstenCarbidePercent");
        Require.Within(VanadiumNitridePercent, 0, 40, "vanadiumNitridePercent");
        Require.Within(ChromiumNitridePercent, 0, 40, "chromiumNitridePercent");
    }
}

/// <summary>
/// Total card cut in the ISO 8442-5 test from hardness, included angle and carbides: a linear fit to many tested steels,
/// TCC = −157 + 15.8 HRC − 17.8 included + 5.0 Fe3C + 11.2 CrC + 14.6 CrVC + 26.2 MC + 9.5 M6C + 20.9 MN + 19.4 CrN, mm.
/// A fit to a machine that cuts card with a vertical stroke: says nothing of rolling, chipping, rust or a board.
/// Source: [thomas2019]. The range of angles below is ours: beyond it a straight line has no meaning.
/// </summary>
public static class CardCutRegression
{
    /// <summary>Smallest included angle it is used for, degrees. Chosen, not derived.</summary>
    public const double LeastIncludedDeg = 20;

    /// <summary>Largest, degrees. Chosen, not derived.</summary>
    public const double MostIncludedDeg = 50;

    /// <summary>Total card cut, mm; may come out negative outside the range it was fitted in.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value is no number or out of range.</exception>
    public static double TotalCardCutMm(SteelData steel, double includedDeg)
    {
        steel.Validate();
        Require.Within(includedDeg, 1, 160);
        return -157
            + (15.8 * steel.HardnessHrc)
            - (17.8 * includedDeg)
            + (5.0 * steel.CementitePercent)
            + (11.2 * steel.ChromiumCarbidePercent)
            + (14.6 * steel.ChromiumVanadiumCarbidePercent)
            + (26.2 * steel.VanadiumCarbidePercent)
            + (9.5 * steel.TungstenCarbidePercent)
            + (20.9 * steel.VanadiumNitridePercent)
            + (19.4 * steel.ChromiumNitridePercent);
    }

    /// <summary>How a total card cut came to be.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value is no number or out of range.</exception>
    public static Derivation Explain(SteelData steel, double includedDeg) => new(
        "total card cut", TotalCardCutMm(steel, includedDeg), "mm",
        "TCC = −157 + 15.8 HRC − 17.8 included + 5.0 Fe3C + 11.2 CrC + 14.6 CrVC + 26.2 MC + 9.5 M6C + 20.9 MN + 19.4 CrN", "[thomas2019]",
        [
            new("HRC", "hardnessHrc", steel.HardnessHrc, "HRC", 15.8),
            new("included", "included angle", includedDeg, "deg", -17.8),
            new("Fe3C", "cementitePercent", steel.CementitePercent, "%", 5.0),
            new("CrC", "chromiumCarbidePercent", steel.ChromiumCarbidePercent, "%", 11.2),
            new("CrVC", "chromiumVanadiumCarbidePercent", steel.ChromiumVanadiumCarbidePercent, "%", 14.6),
            new("MC", "vanadiumCarbidePercent", steel.VanadiumCarbidePercent, "%", 26.2),
            new("M6C", "tungstenCarbidePercent", steel.TungstenCarbidePercent, "%", 9.5),
            new("MN", "vanadiumNitridePercent", steel.VanadiumNitridePercent, "%", 20.9),
            new("CrN", "chromiumNitridePercent", steel.ChromiumNitridePercent, "%", 19.4),
        ],
        "sections.card-cut/1");

    /// <summary>Expected life at the new angle over that at the old one, or why it is not given.</summary>
    public static (double? Ratio, Reason? WhyNot) LifeRatio(SteelData? steel, double oldIncludedDeg, double newIncludedDeg)
    {
        if (steel is null)
            return (null, new Reason("steel-not-given", "No life ratio: it needs the steel's hardness and carbide volumes."));
        foreach (double included in (ReadOnlySpan<double>)[oldIncludedDeg, newIncludedDeg])
        {
            if (included is < LeastIncludedDeg - 1e-9 or > MostIncludedDeg + 1e-9)
                return (null, new Reason("outside-regression", string.Create(CultureInfo.InvariantCulture,
                    $"No life ratio: {included:0.#}° included lies outside the {LeastIncludedDeg} to {MostIncludedDeg}° for which we use the card-cut fit. Judge by the cut test.")));
        }
        double before = TotalCardCutMm(steel, oldIncludedDeg), after = TotalCardCutMm(steel, newIncludedDeg);
        return before > 0 && after > 0
            ? (after / before, null)
            : (null, new Reason("outside-regression", string.Create(CultureInfo.InvariantCulture,
                $"No life ratio: the card-cut fit gives {before:0} mm before and {after:0} mm after, which means that this steel lies outside what it was fitted to.")));
    }
}
