using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>What a person told of how high the edge floats over the mat.</summary>
/// <param name="EdgeMm">Height of the middle of the edge; null where it was not told.</param>
/// <param name="SpineMm">Thickness of the spine at the heel; null where it was not told.</param>
/// <param name="OnFlank">Whether the blade lies on its flank, whatever is at its heel's end; null where it was not told.</param>
internal readonly record struct ToldHeight(double? EdgeMm = null, double? SpineMm = null, bool? OnFlank = null)
{
    /// <summary>
    /// Half the steel's thickness at the tip, over the spine's at the heel, with its standard uncertainty. Chosen: spines are drawn out toward the tip to between a third and
    /// all of their thickness (common practice, no source).
    /// </summary>
    public const double TipOfSpine = 0.36, TipOfSpineU = 0.09;

    /// <summary>A spine is measured, and lies, to this, mm. Chosen.</summary>
    public const double HeelUMm = 0.05;

    /// <summary>
    /// The heights that follow; null where none do. A blade on its flank floats on half its own thickness, at the heel and at the tip; one that a handle lifts touches
    /// down near the tip, where it floats on half its thickness too, and the heel as much above the told middle as the tip is below.
    /// </summary>
    /// <param name="handle">Whether a handle, or a tang, is seen that may lift the blade; told higher than it could float on its flank, one does, seen or not.</param>
    public KnownHeight? Of(bool handle)
    {
        if (SpineMm is not { } spine)
            return EdgeMm is { } mm ? KnownHeight.Told(mm) : null;
        (double tip, double tipU) = (TipOfSpine * spine, TipOfSpineU * spine);
        double heel = spine / 2;
        if (Lifts(handle) || EdgeMm > BladeTold.MostOnFlank(Length.FromMillimetres(spine)).Millimetres)
            return EdgeMm is { } middle ? KnownHeight.Told(middle) with { Tip = (Math.Min(tip, middle), tipU) } : null;
        if (EdgeMm is { } told)
            (tip, tipU) = Weighed((tip, tipU), ((2 * told) - heel, 2 * KnownHeight.ToldUMm));
        tip = Math.Clamp(tip, 0, heel);
        return new((heel + tip) / 2, Math.Sqrt((HeelUMm * HeelUMm) + (tipU * tipU)) / 2) { Tip = (tip, tipU) };
    }

    /// <summary>Whether what is seen at the heel's end lifts the blade.</summary>
    /// <param name="handle">Whether a handle, or a tang, is seen.</param>
    public bool Lifts(bool handle) => OnFlank is { } flat ? !flat : handle;

    private static (double Mm, double UMm) Weighed((double Mm, double UMm) a, (double Mm, double UMm) b)
    {
        (double p, double q) = (1 / (a.UMm * a.UMm), 1 / (b.UMm * b.UMm));
        return (((p * a.Mm) + (q * b.Mm)) / (p + q), 1 / Math.Sqrt(p + q));
    }
}
