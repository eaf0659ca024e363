namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// Finds a clamp of least worst deviation: a coarse grid of pivots, then from the best few of them steps to the solution of the linear
/// problem within a box that grows when it helped and shrinks when it did not.
/// </summary>
internal sealed class ClampDescent
{
    private const int GridX = 13;
    private const int GridDistance = 7;
    private const int Starts = 3;
    private const int MostSteps = 60;
    private const int StepsToShowPromise = 6;
    private const double FinestStepMm = 1e-6;

    /// <summary>A box proved to hold nothing better by more than this ends the walk, rad.</summary>
    private const double SettledRad = 1e-11;

    private readonly ClampModel model;
    private readonly PivotBox box;
    private readonly double preferX, preferDistance;
    private readonly BoxMinimax linear;

    public ClampDescent(ClampModel model, ClampProblem problem)
    {
        this.model = model;
        box = problem.Box;
        linear = new(model);
        double middle = 0.5 * (problem.Stations[problem.FirstScored].XMm + problem.Stations[problem.LastScored].XMm);
        preferX = Math.Clamp(middle, box.LeastXMm, box.MostXMm);
        preferDistance = -box.Middle.Y;
    }

    public double X { get; private set; }

    public double Distance { get; private set; }

    public double DeltaRad { get; private set; } = double.PositiveInfinity;

    public PivotBox Box => box;

    /// <summary>False where no pivot of the grid has a pose.</summary>
    public bool Run(CancellationToken cancellationToken)
    {
        List<(double Delta, double X, double Distance)> starts = [];
        int across = box.MostXMm > box.LeastXMm ? GridX : 1;
        int along = box.MostDistanceMm > box.LeastDistanceMm ? GridDistance : 1;
        for (int i = 0; i < across; i++)
        {
            for (int k = 0; k < along; k++)
            {
                double x = Part(box.LeastXMm, box.MostXMm, i, across);
                double distance = Part(box.LeastDistanceMm, box.MostDistanceMm, k, along);
                double delta = model.DeltaRad(x, distance);
                if (!double.IsInfinity(delta))
                    starts.Add((delta, x, distance));
            }
        }

        starts.Add((model.DeltaRad(preferX, preferDistance), preferX, preferDistance));
        starts.Sort();
        foreach ((double delta, double x, double distance) in starts.Take(Starts))
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (!double.IsInfinity(delta))
                From(x, distance);
        }

        if (double.IsInfinity(DeltaRad))
            return false;
        Prefer();
        return true;
    }

    /// <summary>Walks down from a pivot; keeps what it finds where that is better than what is known.</summary>
    public void From(double x, double distance)
    {
        double delta = model.DeltaRad(x, distance);
        if (double.IsInfinity(delta))
            return;
        Keep(x, distance, delta);
        double halfX = 0.25 * (box.MostXMm - box.LeastXMm);
        double halfDistance = 0.25 * (box.MostDistanceMm - box.LeastDistanceMm);
        for (int step = 0; step < MostSteps && halfX + halfDistance > FinestStepMm && delta > 1e-12; step++)
        {
            // A later start that is not the best by now is on its way to what is known, or to something worse.
            if (step == StepsToShowPromise && delta > DeltaRad)
                return;
            double loX = Math.Max(x - halfX, box.LeastXMm);
            double hiX = Math.Min(x + halfX, box.MostXMm);
            double loDistance = Math.Max(distance - halfDistance, box.LeastDistanceMm);
            double hiDistance = Math.Min(distance + halfDistance, box.MostDistanceMm);
            linear.Solve(0.5 * (loX + hiX), 0.5 * (loDistance + hiDistance), 0.5 * (hiX - loX), 0.5 * (hiDistance - loDistance), delta);
            if (linear.BoundRad > -SettledRad)
                return;
            double next = model.DeltaRad(linear.BestX, linear.BestDistance);
            if (next < delta)
            {
                bool much = next < 0.9 * delta;
                (x, distance, delta) = (linear.BestX, linear.BestDistance, next);
                Keep(x, distance, delta);
                if (much)
                    continue;
            }

            halfX *= 0.4;
            halfDistance *= 0.4;
        }
    }

    private static double Part(double from, double to, int i, int count) => count == 1 ? 0.5 * (from + to) : from + ((to - from) * i / (count - 1));

    private void Keep(double x, double distance, double delta)
    {
        if (!(delta < DeltaRad))
            return;
        (X, Distance, DeltaRad) = (x, distance, delta);
    }

    /// <summary>Where clamps tie (a straight edge), the one nearest the middle of the edge and of the box.</summary>
    private void Prefer()
    {
        const double tie = 1e-9;
        double delta = model.DeltaRad(preferX, preferDistance);
        if (delta > DeltaRad + tie)
            return;
        (X, Distance) = (preferX, preferDistance);
        DeltaRad = delta;
    }
}
