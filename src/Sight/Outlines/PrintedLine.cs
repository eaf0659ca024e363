namespace Whetwright.Sight.Outlines;

/// <summary>A line printed along the mat, in cells of the grid that it was found on; for a line down the mat columns and rows change places.</summary>
/// <param name="Row0">Its row at column 0.</param>
/// <param name="Slope">Rows per column.</param>
/// <param name="From">First column.</param>
/// <param name="To">Last column.</param>
/// <param name="Depth">How much darker than the paper, natural logarithm.</param>
/// <param name="Down">Whether it runs down the mat.</param>
/// <param name="Words">Rows of words beside it.</param>
internal sealed record PrintedLine(double Row0, double Slope, int From, int To, double Depth, bool Down, IReadOnlyList<WordRow> Words)
{
    public int RowAt(int column) => (int)Math.Round(Row0 + (Slope * column));
}

/// <summary>A row of words beside a line.</summary>
/// <param name="Near">Nearest row of cells, from the line; negative above it.</param>
/// <param name="Far">Farthest likewise.</param>
/// <param name="Columns">From the line's first on, where words stand.</param>
internal sealed record WordRow(int Near, int Far, bool[] Columns);
