namespace Whetwright.Sight.Outlines;

/// <summary>Height of the middle of an edge over the mat where somebody told it or two photos measured it.</summary>
/// <param name="MiddleMm">The height.</param>
/// <param name="UMm">Its standard uncertainty.</param>
internal readonly record struct KnownHeight(double MiddleMm, double UMm)
{
    /// <summary>A told height is good to this. Chosen.</summary>
    public const double ToldUMm = 0.15;

    /// <summary>A blade that lies flat floats on half its own thickness, which tapers toward the tip: the tip's share of the middle. Chosen.</summary>
    public const double FlatTip = 0.8;

    public static KnownHeight Told(double mm) => new(mm, ToldUMm);

    public static KnownHeight Measured(EdgeHeight height) => new(height.MiddleMm, Math.Max(ToldUMm, height.UMm));

    /// <summary>Height at the tip with its standard uncertainty, where the spine's thickness tells it.</summary>
    public (double Mm, double UMm)? Tip { get; init; }

    /// <summary>A blade touches down near its tip, so the tip floats no higher than half its thickness there, and a thin blade lower.</summary>
    public double TipMm => Tip?.Mm ?? Math.Min(FlatTip * MiddleMm, OutlineBudget.TipHeightMm);

    /// <summary>The heel floats as much above the middle as the tip is below.</summary>
    public double HeelMm => (2 * MiddleMm) - TipMm;

    /// <summary>How well heights along the edge are known, mm.</summary>
    public double AlongUMm => Tip is { } tip ? Math.Sqrt((UMm * UMm) + (tip.UMm * tip.UMm)) : OutlineBudget.ToldHeightUMm;
}
