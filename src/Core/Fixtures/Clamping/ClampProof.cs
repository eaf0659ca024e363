namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// Branch and bound: cuts the box of pivots into smaller ones until each is proved not to reach the best deviation less a gap. A box whose
/// linear problem points to a better clamp sends the descent there first. Where the work exceeds its measure the gap is widened, and the bound
/// says what was proved.
/// </summary>
internal sealed class ClampProof(ClampModel model, ClampDescent descent)
{
    private const int MostBoxes = 20_000;

    private const double SmallestHalfMm = 1e-4;

    private readonly BoxMinimax linear = new(model);

    public int BoxesTried { get; private set; }

    /// <summary>The proved bound, degrees: no clamp in the box has a smaller worst weighted deviation.</summary>
    public double Run(CancellationToken cancellationToken)
    {
        double gapRad = double.DegreesToRadians(ClampSearch.ProofGapDeg);
        while (true)
        {
            if (descent.DeltaRad <= gapRad)
                return 0;
            if (Try(gapRad, cancellationToken))
                return double.RadiansToDegrees(Math.Max(descent.DeltaRad - gapRad, 0));
            gapRad *= 4;
        }
    }

    private bool Try(double gapRad, CancellationToken cancellationToken)
    {
        PivotBox box = descent.Box;
        Stack<(double X, double Distance, double HalfX, double HalfDistance)> open = new();
        open.Push((
            0.5 * (box.LeastXMm + box.MostXMm),
            0.5 * (box.LeastDistanceMm + box.MostDistanceMm),
            0.5 * (box.MostXMm - box.LeastXMm),
            0.5 * (box.MostDistanceMm - box.LeastDistanceMm)));
        int budget = BoxesTried + MostBoxes;
        while (open.Count > 0)
        {
            (double x, double distance, double halfX, double halfDistance) = open.Pop();
            if (++BoxesTried > budget)
                return false;
            if ((BoxesTried & 63) == 0)
                cancellationToken.ThrowIfCancellationRequested();
            double goal = descent.DeltaRad - gapRad;
            if (goal <= 0)
                return true;
            linear.Solve(x, distance, halfX, halfDistance, goal);
            if (linear.BoundRad > BoxMinimax.RoundingRad || NoPose(x, distance, halfX, halfDistance))
                continue;
            if (model.DeltaRad(linear.BestX, linear.BestDistance) < descent.DeltaRad)
                descent.From(linear.BestX, linear.BestDistance);
            if (Math.Max(halfX, halfDistance) < SmallestHalfMm)
                return false;
            if (halfX >= halfDistance)
            {
                open.Push((x - (0.5 * halfX), distance, 0.5 * halfX, halfDistance));
                open.Push((x + (0.5 * halfX), distance, 0.5 * halfX, halfDistance));
            }
            else
            {
                open.Push((x, distance - (0.5 * halfDistance), halfX, 0.5 * halfDistance));
                open.Push((x, distance + (0.5 * halfDistance), halfX, 0.5 * halfDistance));
            }
        }

        return true;
    }

    /// <summary>True where some station's foot lies in front of its tangent for every pivot of the box.</summary>
    private bool NoPose(double x, double distance, double halfX, double halfDistance)
    {
        for (int i = 0; i < model.Count; i++)
        {
            double most = model.SupportAt(i, x, distance) + (Math.Abs(model.NormalX(i)) * halfX) + (Math.Abs(model.NormalY(i)) * halfDistance);
            if (most < 0)
                return true;
        }

        return false;
    }
}
