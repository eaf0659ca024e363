namespace Whetwright.Sight.Outlines;

/// <summary>A strip's light against the paper (<see cref="StripTones"/>), averaged to cells of about a pixel: what lies nearer hangs together and says nothing more.</summary>
internal sealed class CoarseTones
{
    /// <summary>Samples of a strip are averaged to so much of a pixel. Chosen.</summary>
    private const double CellPx = 0.9;

    private readonly double[,] _light;
    private readonly double _firstMm;

    public CoarseTones(EdgeStrip strip, StripTones tones)
    {
        int of = Math.Max(1, (int)Math.Round(CellPx * strip.PixelMm / strip.StepMm));
        CellMm = of * strip.StepMm;
        _firstMm = (of - 1) / 2.0 * strip.StepMm;
        _light = new double[strip.Columns / of, strip.Rows / of];
        for (int i = 0; i < Columns * of; i++)
        {
            for (int k = 0; k < Rows * of; k++)
                _light[i / of, k / of] += tones[i, k, 0] / (of * of);
        }
    }

    /// <summary>Distance of cells along and across, mm.</summary>
    public double CellMm { get; }

    public int Columns => _light.GetLength(0);

    public int Rows => _light.GetLength(1);

    /// <summary>Depth of the outermost row behind the line (negative), mm.</summary>
    public double FromMm => EdgeStrip.FromMm + _firstMm;

    public double this[int column, int row] => _light[column, row];

    /// <summary>Depth of a row behind the line, mm.</summary>
    public double DepthOf(int row) => FromMm + (row * CellMm);

    /// <summary>Place of a column along the strip, mm.</summary>
    public double PlaceOf(int column) => _firstMm + (column * CellMm);

    /// <summary>The column next to a place along the strip.</summary>
    public int ColumnAt(double atMm) => (int)Math.Round((atMm - _firstMm) / CellMm);

    /// <summary>The first row at least so deep.</summary>
    public int RowFrom(double depthMm) => Math.Clamp((int)Math.Ceiling((depthMm - FromMm) / CellMm), 0, Rows);
}
