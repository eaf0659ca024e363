namespace Whetwright.Sight.Outlines;

/// <summary>Height of the middle of an edge over the mat where somebody told it or two photos measured it.</summary>
/// <param name="MiddleMm">The height.</param>
/// <param name="UMm">Its standard uncertainty.</param>
internal readonly record struct KnownHeight(double MiddleMm, double UMm)
{
    /// <summary>A told height is good to this. Chosen.</summary>
    private const double ToldUMm = 0.15;

    public static KnownHeight Told(double mm) => new(mm, ToldUMm);

    public static KnownHeight Measured(EdgeHeight height) => new(height.MiddleMm, Math.Max(ToldUMm, height.UMm));

    /// <summary>A blade that lies flat floats on half its own thickness, which tapers toward the tip: the tip's share of the middle. Chosen.</summary>
    public const double FlatTip = 0.8;

    /// <summary>A blade touches down near its tip, so the tip floats no higher than half its thickness there, and a thin blade lower.</summary>
    public double TipMm => Math.Min(FlatTip * MiddleMm, OutlineBudget.TipHeightMm);

    /// <summary>The heel floats as much above the middle as the tip is below.</summary>
    public double HeelMm => (2 * MiddleMm) - TipMm;
}
