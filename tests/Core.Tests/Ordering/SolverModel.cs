using Google.OrTools.Sat;
using Whetwright.Core.Ordering;

namespace Whetwright.Simulated;

/// <summary>
/// A bench day as a model for the constraint solver CP-SAT of OR-Tools: one circuit through the bench as it stands and all jobs, the minutes worked as sums along it, breaks
/// and lateness on top. Minutes, promises, weights and changes must be whole numbers. Written apart from our own search, to check it.
/// </summary>
internal static class SolverModel
{
    /// <summary>What the changes alone cost at least, jobs waiting for none and nothing promised: the solver's bound on that, whether proved or not.</summary>
    public static double LeastSetup(BenchDay day, double seconds)
    {
        CpModel model = new();
        CircuitConstraint circuit = model.AddCircuit();
        LinearExprBuilder cost = LinearExpr.NewBuilder();
        for (int from = -1; from < day.Jobs.Count; from++)
        {
            for (int to = -1; to < day.Jobs.Count; to++)
            {
                if (from == to || (from >= 0 && to >= 0 && day.After(from).Contains(to)))
                    continue;
                BoolVar arc = model.NewBoolVar($"{from} to {to}");
                circuit.AddArc(from + 1, to + 1, arc);
                cost.AddTerm(arc, (long)Math.Round(to >= 0 || day.ReturnToStart ? day.ChangeMinutes(from, to) : 0));
            }
        }

        model.Minimize(cost);
        CpSolver solver = new() { StringParameters = FormattableString.Invariant($"max_time_in_seconds:{seconds},num_workers:1,random_seed:1") };
        solver.Solve(model);
        return solver.BestObjectiveBound;
    }

    /// <summary>Cheapest cost found, the solver's own bound, and whether it is proved.</summary>
    public static (double Cost, double Bound, bool Proved) Solve(BenchDay day, double seconds, int seed = 1)
    {
        CpModel model = new();
        int n = day.Jobs.Count;
        long horizon = (long)Enumerable.Range(0, n).Sum(j => day.MinutesOf(j) + Enumerable.Range(-1, n + 1).Where(i => i != j).Max(i => day.ChangeMinutes(i, j)));
        IntVar[] worked = [.. Enumerable.Range(0, n).Select(j => model.NewIntVar(0, horizon, $"worked {j}"))];
        CircuitConstraint circuit = model.AddCircuit();
        LinearExprBuilder cost = LinearExpr.NewBuilder();
        for (int from = -1; from < n; from++)
        {
            for (int to = -1; to < n; to++)
            {
                if (from == to)
                    continue;
                BoolVar arc = model.NewBoolVar($"{from} to {to}");
                circuit.AddArc(from + 1, to + 1, arc);
                long change = (long)Math.Round(to >= 0 ? day.ChangeMinutes(from, to) : day.ReturnToStart ? day.ChangeMinutes(from, -1) : 0);
                cost.AddTerm(arc, change);
                if (to < 0)
                    continue;
                long minutes = change + (long)day.MinutesOf(to);
                if (from < 0)
                    model.Add(worked[to] == minutes).OnlyEnforceIf(arc);
                else
                    model.Add(worked[to] == worked[from] + minutes).OnlyEnforceIf(arc);
            }
        }

        for (int job = 0; job < n; job++)
        {
            foreach (int before in day.After(job))
                model.Add(worked[job] >= worked[before] + (long)day.MinutesOf(job));
            if (day.Jobs[job].DueMinutes is not { } due || day.Jobs[job].Weight == 0)
                continue;
            LinearExprBuilder clock = LinearExpr.NewBuilder();
            clock.Add(worked[job]);
            long pushed = 0;
            foreach (BenchBreak span in day.Breaks)
            {
                // The clock passes this break once the work so far, pushed by the breaks before it, runs beyond its beginning.
                BoolVar passed = model.NewBoolVar($"{job} after break {span.FromMinutes}");
                model.Add(worked[job] <= (long)span.FromMinutes - pushed).OnlyEnforceIf(passed.Not());
                clock.AddTerm(passed, (long)(span.ToMinutes - span.FromMinutes));
                pushed += (long)(span.ToMinutes - span.FromMinutes);
            }

            IntVar late = model.NewIntVar(0, horizon + pushed, $"late {job}");
            model.Add(late >= clock - (long)due);
            cost.AddTerm(late, (long)day.Jobs[job].Weight);
        }

        model.Minimize(cost);
        CpSolver solver = new() { StringParameters = FormattableString.Invariant($"max_time_in_seconds:{seconds},num_workers:1,random_seed:{seed}") };
        CpSolverStatus status = solver.Solve(model);
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible
            ? (solver.ObjectiveValue, solver.BestObjectiveBound, status == CpSolverStatus.Optimal)
            : (double.PositiveInfinity, solver.BestObjectiveBound, false);
    }
}
