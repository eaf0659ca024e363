using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>A length that somebody knows, beside its extent on the sheet as drawn.</summary>
/// <param name="DrawnMm">From one end to the other in drawn millimetres, across and down.</param>
/// <param name="DrawnUMm">Standard uncertainty of either component.</param>
/// <param name="True">The length as a ruler or calliper has it, in the plane of the paper.</param>
public sealed record KnownLength(Vector2 DrawnMm, double DrawnUMm, MeasuredLength True);

/// <summary>The printer's scale across and down from two lengths that are known, in whatever directions they lie.</summary>
public static class PrintScaleFromLengths
{
    /// <summary>Least sine of the angle between the two lengths: flatter pairs do not tell across from down. Chosen.</summary>
    private const double LeastSine = 0.5;

    /// <summary>
    /// Solves (k_x Δx)² + (k_y Δy)² = ℓ² for both lengths: linear in k_x² and k_y². Δ drawn extents, ℓ true lengths. Leaves out shear of the print.
    /// Source: Pythagoras; uncertainty by [gum] 5.1.2.
    /// </summary>
    /// <exception cref="ArgumentException">The lengths lie in nearly one direction, or give a scale off by more than a tenth.</exception>
    public static (PrintScale Scale, double UAcross, double UDown, IReadOnlyList<Derivation> Chain) Solve(KnownLength first, KnownLength second)
    {
        (Vector2 a, Vector2 b) = (first.DrawnMm, second.DrawnMm);
        double det = (a.X * a.X * b.Y * b.Y) - (a.Y * a.Y * b.X * b.X);
        if (!(Math.Abs(det) > LeastSine * LeastSine * ((a.X * a.X) + (a.Y * a.Y)) * ((b.X * b.X) + (b.Y * b.Y))))
            throw new ArgumentException("The two lengths lie in nearly one direction (or mirror each other), so they do not tell across from down; lay one across the sheet and one down it.", nameof(second));
        InputQuantity[] inputs =
        [
            new("Δx₁", "first length across, drawn", a.X, first.DrawnUMm, "mm"), new("Δy₁", "first length down, drawn", a.Y, first.DrawnUMm, "mm"),
            new("Δx₂", "second length across, drawn", b.X, second.DrawnUMm, "mm"), new("Δy₂", "second length down, drawn", b.Y, second.DrawnUMm, "mm"),
            new("ℓ₁", "first length, true", first.True.Value.Millimetres, first.True.StandardUncertainty.Millimetres, "mm"),
            new("ℓ₂", "second length, true", second.True.Value.Millimetres, second.True.StandardUncertainty.Millimetres, "mm"),
        ];
        PropagatedUncertainty across = Propagation.FirstOrder(x => Math.Sqrt(Squares(x).Across), inputs);
        PropagatedUncertainty down = Propagation.FirstOrder(x => Math.Sqrt(Squares(x).Down), inputs);
        foreach (double k in (double[])[across.Value, down.Value])
        {
            if (!(Math.Abs(k - 1) <= 0.1))
                throw new ArgumentException(FormattableString.Invariant($"The points and lengths give a print scale of {k:0.000}, off by more than a tenth: check that each --true-mm belongs to its points, and print at 100 %, without fit to page."), nameof(first));
        }

        return (new(across.Value, down.Value), across.Uncertainty, down.Uncertainty,
            [Explained("print scale across", "k_x: (k_x Δx)² + (k_y Δy)² = ℓ²", across, inputs), Explained("print scale down", "k_y: (k_x Δx)² + (k_y Δy)² = ℓ²", down, inputs)]);
    }

    /// <summary>
    /// A length at a height t over the paper, as it is thrown onto the paper's plane from a camera H away: ℓ·H/(H − t). A ruler's graduations lie
    /// above the sheet by its thickness. Source: similar triangles.
    /// </summary>
    public static MeasuredLength OntoPaper(MeasuredLength length, MeasuredLength raised, Length cameraDistance)
    {
        double h = Require.Positive(cameraDistance.Millimetres, nameof(cameraDistance));
        double t = Require.Within(raised.Value.Millimetres, 0, h / 4, nameof(raised));
        double factor = h / (h - t);
        double l = Require.Positive(length.Value.Millimetres, nameof(length));
        double fromHeight = l * factor / (h - t) * raised.StandardUncertainty.Millimetres;
        return MeasuredLength.FromMillimetres(l * factor, Math.Sqrt(Math.Pow(factor * length.StandardUncertainty.Millimetres, 2) + (fromHeight * fromHeight)));
    }

    private static (double Across, double Down) Squares(double[] x)
    {
        double det = (x[0] * x[0] * x[3] * x[3]) - (x[1] * x[1] * x[2] * x[2]);
        double first = x[4] * x[4];
        double second = x[5] * x[5];
        return (((first * x[3] * x[3]) - (second * x[1] * x[1])) / det, ((second * x[0] * x[0]) - (first * x[2] * x[2])) / det);
    }

    private static Derivation Explained(string name, string formula, PropagatedUncertainty k, InputQuantity[] inputs) =>
        DistanceCalibration.Explained(name, k, "1", formula, "Pythagoras", "optics.print-scale-from-lengths/1", inputs);
}
