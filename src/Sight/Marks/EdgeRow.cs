namespace Whetwright.Sight.Marks;

/// <summary>
/// The row on which all specular points of one edge lie. With the edge along e = (−τ, 1, tan φ) in the beam frame every facet's
/// normal is square to e, so its ray keeps r·e = d·e: on a square sheet at distance L, from the bare beam,
/// y = y₀ + τ·x + tan φ·(√(x² + y² + L²) − L). Three unknowns, solved with priors from the middles of the marks.
/// </summary>
/// <param name="Y0Mm">Height of the bare beam against the target's zero.</param>
/// <param name="Tau">Turn of the edge about the beam, radians (sheet turn included).</param>
/// <param name="TanPitch">Tangent of the edge's pitch.</param>
/// <param name="Covariance">Of the three, in this order.</param>
/// <param name="Misfit">Sum of squared standardised misfits, priors included.</param>
internal sealed record EdgeRow(double Y0Mm, double Tau, double TanPitch, double[,] Covariance, double Misfit)
{
    public double YMm(double xMm, double distanceMm) => Y0Mm + (Tau * xMm) + (TanPitch * (Math.Sqrt((xMm * xMm) + (distanceMm * distanceMm)) - distanceMm));

    /// <summary>Fits the row.</summary>
    /// <param name="marks">Middles: x, y from the target's zero, standard uncertainty of y.</param>
    /// <param name="distanceMm">Edge to sheet.</param>
    /// <param name="y0">Prior of the bare beam's height: value and standard uncertainty, mm.</param>
    /// <param name="priors">Prior spreads of turn and pitch.</param>
    public static EdgeRow Fit(IReadOnlyList<(double X, double Y, double U)> marks, double distanceMm, (double Value, double U) y0, SetUpPriors priors)
    {
        int rows = marks.Count + 3;
        double[,] j = new double[rows, 3];
        double[] z = new double[rows];
        for (int i = 0; i < marks.Count; i++)
        {
            (double x, double y, double u) = marks[i];
            j[i, 0] = 1 / u;
            j[i, 1] = x / u;
            j[i, 2] = (Math.Sqrt((x * x) + (distanceMm * distanceMm)) - distanceMm) / u;
            z[i] = y / u;
        }

        double[] sd = [y0.U, priors.TurnRad, priors.PitchRad];
        for (int k = 0; k < 3; k++)
            j[marks.Count + k, k] = 1 / sd[k];
        z[marks.Count] = y0.Value / y0.U;
        double[] p = LeastSquares.Step(j, z, 0) ?? [y0.Value, 0, 0];
        double[,] a = new double[3, 3];
        double misfit = 0;
        for (int i = 0; i < rows; i++)
        {
            double r = z[i];
            for (int k = 0; k < 3; k++)
            {
                r -= j[i, k] * p[k];
                for (int m = 0; m < 3; m++)
                    a[k, m] += j[i, k] * j[i, m];
            }

            misfit += r * r;
        }

        return new(p[0], p[1], p[2], LeastSquares.Invert(a) ?? new double[3, 3], misfit);
    }
}

/// <summary>How far a set-up at a bench is usually off, one standard deviation. Chosen, not derived; an instrument file replaces the zero's.</summary>
internal sealed record SetUpPriors
{
    /// <summary>Turn of the edge or the sheet about the beam: 2.2°.</summary>
    public double TurnRad { get; init; } = double.DegreesToRadians(2.2);

    /// <summary>Pitch of the edge: 3°.</summary>
    public double PitchRad { get; init; } = double.DegreesToRadians(3);

    /// <summary>Bare beam against the target's zero, each way: 1.5 mm.</summary>
    public double ZeroMm { get; init; } = 1.5;

    /// <summary>Sheet against square to the beam, about each axis: 1°.</summary>
    public double SheetTiltRad { get; init; } = double.DegreesToRadians(1);
}
