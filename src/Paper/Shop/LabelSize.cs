namespace Whetwright.Paper.Shop;

/// <summary>Size of a label, mm.</summary>
/// <param name="WidthMm">Width.</param>
/// <param name="HeightMm">Height.</param>
public readonly record struct LabelSize(double WidthMm, double HeightMm)
{
    /// <summary>62 × 29 mm: a common size of roll (common practice, no source).</summary>
    public static LabelSize Usual { get; } = new(62, 29);

    /// <summary>Least and greatest side we print, mm (chosen, not derived: under it the number is not read at arm's length).</summary>
    public const double LeastMm = 12;

    /// <summary>Greatest side, mm.</summary>
    public const double MostMm = 300;

    internal LabelSize Checked(string label = "The label")
    {
        foreach ((string name, double mm) in ((string, double)[])[("width", WidthMm), ("height", HeightMm)])
        {
            if (!(mm >= LeastMm && mm <= MostMm))
                throw new ArgumentOutOfRangeException(nameof(label), mm, FormattableString.Invariant($"{label}'s {name} is {mm} mm; it should be from {LeastMm} to {MostMm} mm."));
        }

        return this;
    }
}
