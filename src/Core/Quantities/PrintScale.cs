namespace Whetwright.Core.Quantities;

/// <summary>What a printer made of a sheet: the factor by which printed lengths are longer than drawn (true millimetres per drawn one).</summary>
/// <param name="Across">Measured over drawn, across the sheet.</param>
/// <param name="Down">Measured over drawn, down the sheet.</param>
public readonly record struct PrintScale(double Across, double Down)
{
    /// <summary>Drawn length of the check lines on every sheet, mm.</summary>
    public const double CheckLineMm = 100;

    /// <summary>A printer without error.</summary>
    public static PrintScale Exact { get; } = new(1, 1);

    /// <summary>From the two check lines as measured with a rule or calliper.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not within 90 to 110 mm: that is another print setting ("fit to page"), not a printer's error.</exception>
    public static PrintScale FromCheckLines(Length across, Length down) => new(
        Require.Within(across.Millimetres, 90, 110, nameof(across)) / CheckLineMm,
        Require.Within(down.Millimetres, 90, 110, nameof(down)) / CheckLineMm);
}
