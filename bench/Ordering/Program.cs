using System.Diagnostics;
using System.Globalization;
using Whetwright.Core.Ordering;
using Whetwright.Simulated;

// The day's order: two seconds of the search against sixty of it and against CP-SAT. Usage: [--days 10] [--first 0] [--long 60] [--solver 60] [--pieces 25]
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
int days = (int)Option("--days", 10), first = (int)Option("--first", 0), pieces = (int)Option("--pieces", 25);
double far = Option("--long", 60), solverSeconds = Option("--solver", 60);
double worst = 0, worstProved = 0;
int proved = 0;
Console.WriteLine("day  promises  2 s      long     over it  CP-SAT   bound    proved  ours proved");
for (int d = first; d < first + days; d++)
{
    BenchDay day = InventedDays.Stages(new Random(100 + d), pieces, promises: d % 2 == 0);
    DayOrder two = Search(day, 2), sixty = Search(day, far);
    (double cost, double bound, bool isProved) = solverSeconds > 0 ? SolverModel.Solve(day, solverSeconds) : (double.PositiveInfinity, 0, false);
    double least = solverSeconds > 0 ? SolverModel.LeastSetup(day, solverSeconds) : 0;
    if (!isProved && Math.Min(cost, sixty.Objective) <= least + 1e-6)
        (isProved, cost) = (true, least);
    bound = Math.Max(bound, least);
    double over = (two.Objective / Math.Min(sixty.Objective, two.Objective)) - 1;
    worst = Math.Max(worst, over);
    if (isProved)
    {
        proved++;
        worstProved = Math.Max(worstProved, (two.Objective / cost) - 1);
    }

    Console.WriteLine($"{d,3}  {(d % 2 == 0 ? "yes" : "no"),8}  {two.Objective,7:0.#}  {sixty.Objective,7:0.#}  {100 * over,6:0.00}%  {cost,7:0.#}  {bound,7:0.#}  {isProved,6}  {two.Proved}");
}

Console.WriteLine($"worst of 2 s over {far} s of the same search: {100 * worst:0.00} %; over the best proved with CP-SAT, on the {proved} days with one: {100 * worstProved:0.00} %");

// Seconds are this process's own processor time, so that other work on the machine does not count.
static DayOrder Search(BenchDay day, double seconds)
{
    using CancellationTokenSource stop = new();
    using Process self = Process.GetCurrentProcess();
    double Used()
    {
        self.Refresh();
        return self.TotalProcessorTime.TotalSeconds;
    }

    double start = Used();
    using Timer timer = new(_ =>
    {
        if (Used() - start >= seconds)
            stop.Cancel();
    }, null, 20, 20);
    return OrderPlanner.Plan(day, 1, int.MaxValue, stop.Token);
}

double Option(string name, double usual)
{
    int at = Array.IndexOf(args, name);
    return at >= 0 ? double.Parse(args[at + 1], CultureInfo.InvariantCulture) : usual;
}
