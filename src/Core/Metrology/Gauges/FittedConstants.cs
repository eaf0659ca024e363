namespace Whetwright.Core.Metrology.Gauges;

/// <summary>One source's block of an orthogonal fit: what it explains beyond the blocks before it.</summary>
internal sealed record FittedBlock(double SumOfSquares, int DegreesOfFreedom, double PartTrace, double OperatorTrace, double InteractionTrace)
{
    internal double MeanSquare => SumOfSquares / DegreesOfFreedom;
}

/// <summary>
/// Sequential least squares of mean, part, operator and interaction, by building one orthonormal basis column by column.
/// The trace of a block with a source's columns is the weight of that source's variance in the block's expected sum of squares.
/// </summary>
internal sealed record FittedConstants(
    FittedBlock Part,
    FittedBlock Operator,
    FittedBlock? Interaction,
    FittedBlock Residual,
    double TotalSumOfSquares,
    int TotalDegreesOfFreedom,
    bool Balanced)
{
    /// <summary>A column whose rest is shorter than this share of it counts as already explained. Chosen, not derived.</summary>
    private const double RankTolerance = 1e-9;

    internal static FittedConstants Of(IReadOnlyList<GaugeMeasurement> measurements, bool withInteraction)
    {
        double mean = measurements.Average(measurement => measurement.Value);
        double[] values = [.. measurements.Select(measurement => measurement.Value - mean)];
        double[][] parts = Indicators(measurements, measurement => measurement.Part);
        double[][] operators = Indicators(measurements, measurement => measurement.Operator);
        double[][] cells = Indicators(measurements, measurement => (measurement.Part, measurement.Operator));

        List<double[]> basis = [];
        Grow(basis, [[.. Enumerable.Repeat(1.0, values.Length)]]);
        FittedBlock part = Block(Grow(basis, parts), values, parts, operators, cells);
        FittedBlock op = Block(Grow(basis, operators), values, parts, operators, cells);
        FittedBlock? interaction = withInteraction ? Block(Grow(basis, cells), values, parts, operators, cells) : null;

        double total = values.Sum(value => value * value);
        double explained = part.SumOfSquares + op.SumOfSquares + (interaction?.SumOfSquares ?? 0);
        FittedBlock residual = new(Math.Max(0, total - explained), values.Length - basis.Count, 0, 0, 0);
        int[] counts = [.. measurements.GroupBy(measurement => (measurement.Part, measurement.Operator)).Select(cell => cell.Count())];
        bool balanced = counts.Length == parts.Length * operators.Length && counts.Distinct().Count() == 1;
        return new FittedConstants(part, op, interaction, residual, total, values.Length - 1, balanced);
    }

    private static double[][] Indicators<TKey>(IReadOnlyList<GaugeMeasurement> measurements, Func<GaugeMeasurement, TKey> key)
        where TKey : notnull
    {
        TKey[] keys = [.. measurements.Select(key)];
        return [.. keys.Distinct().Select(one => keys.Select(other => other.Equals(one) ? 1.0 : 0.0).ToArray())];
    }

    /// <summary>Adds the columns to the basis (modified Gram–Schmidt, twice for full precision) and gives back what was added.</summary>
    private static List<double[]> Grow(List<double[]> basis, double[][] columns)
    {
        List<double[]> added = [];
        foreach (double[] column in columns)
        {
            double[] rest = [.. column];
            for (int sweep = 0; sweep < 2; sweep++)
            {
                foreach (double[] direction in basis)
                {
                    double share = Dot(direction, rest);
                    for (int row = 0; row < rest.Length; row++)
                        rest[row] -= share * direction[row];
                }
            }

            double norm = Math.Sqrt(Dot(rest, rest));
            if (norm <= RankTolerance * Math.Sqrt(Dot(column, column)))
                continue;
            for (int row = 0; row < rest.Length; row++)
                rest[row] /= norm;
            basis.Add(rest);
            added.Add(rest);
        }

        return added;
    }

    private static FittedBlock Block(List<double[]> directions, double[] values, double[][] parts, double[][] operators, double[][] cells) => new(
        directions.Sum(direction => Math.Pow(Dot(direction, values), 2)),
        directions.Count,
        Trace(directions, parts),
        Trace(directions, operators),
        Trace(directions, cells));

    private static double Trace(List<double[]> directions, double[][] columns) =>
        directions.Sum(direction => columns.Sum(column => Math.Pow(Dot(direction, column), 2)));

    private static double Dot(double[] left, double[] right)
    {
        double sum = 0;
        for (int row = 0; row < left.Length; row++)
            sum += left[row] * right[row];
        return sum;
    }
}
