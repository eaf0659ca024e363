namespace Whetwright.Core.Ordering;

/// <summary>
/// A lower bound on the cost of any order: the cheapest way to give every job a predecessor (an assignment, solved exactly), plus
/// what each promise must cost even if its job and those it waits for came first.
/// </summary>
/// <remarks>
/// The assignment bound of the asymmetric travelling salesman (E. Balas and P. Toth, in <em>The Traveling Salesman Problem</em>, 1985, ch. 10;
/// citation from memory). The assignment itself by the Hungarian method with potentials, O(n³).
/// </remarks>
internal static class SetupBound
{
    internal static double Of(BenchDay day) => LeastSetup(day) + LeastLateness(day);

    /// <summary>Σ over jobs of the lateness that no order avoids: own minutes and change, and the minutes of all it waits for.</summary>
    private static double LeastLateness(BenchDay day)
    {
        int count = day.Jobs.Count;
        double total = 0;
        for (int job = 0; job < count; job++)
        {
            HashSet<int> needed = [job];
            Stack<int> open = new([job]);
            while (open.TryPop(out int next))
            {
                foreach (int before in day.After(next))
                {
                    if (needed.Add(before))
                        open.Push(before);
                }
            }

            double change = Enumerable.Range(-1, count + 1).Where(from => from != job).Min(from => day.ChangeMinutes(from, job));
            total += day.LateCost(job, needed.Sum(day.MinutesOf) + change);
        }

        return total;
    }

    private static double LeastSetup(BenchDay day)
    {
        int size = day.Jobs.Count + 1;
        double large = 1;
        for (int from = -1; from < size - 1; from++)
        {
            for (int to = -1; to < size - 1; to++)
            {
                if (from != to)
                    large += day.ChangeMinutes(from, to);
            }
        }

        double[,] cost = new double[size, size];
        for (int row = 0; row < size; row++)
        {
            for (int column = 0; column < size; column++)
                cost[row, column] = row == column ? (size == 1 ? 0 : large) : column == 0 && !day.ReturnToStart ? 0 : day.ChangeMinutes(row - 1, column - 1);
        }

        for (int job = 0; job < size - 1; job++)
        {
            foreach (int before in day.After(job))
                cost[job + 1, before + 1] = large;
        }

        return Assignment(cost);
    }

    /// <summary>Least total of a square cost matrix with one entry chosen per row and column.</summary>
    private static double Assignment(double[,] cost)
    {
        int size = cost.GetLength(0);
        double[] rowPotential = new double[size + 1];
        double[] columnPotential = new double[size + 1];
        int[] rowOfColumn = new int[size + 1];
        int[] way = new int[size + 1];
        for (int row = 1; row <= size; row++)
        {
            rowOfColumn[0] = row;
            int column = 0;
            double[] least = new double[size + 1];
            Array.Fill(least, double.PositiveInfinity);
            bool[] used = new bool[size + 1];
            do
            {
                used[column] = true;
                int current = rowOfColumn[column];
                double delta = double.PositiveInfinity;
                int next = 0;
                for (int j = 1; j <= size; j++)
                {
                    if (used[j])
                        continue;
                    double reduced = cost[current - 1, j - 1] - rowPotential[current] - columnPotential[j];
                    if (reduced < least[j])
                        (least[j], way[j]) = (reduced, column);
                    if (least[j] < delta)
                        (delta, next) = (least[j], j);
                }

                for (int j = 0; j <= size; j++)
                {
                    if (used[j])
                    {
                        rowPotential[rowOfColumn[j]] += delta;
                        columnPotential[j] -= delta;
                    }
                    else
                    {
                        least[j] -= delta;
                    }
                }

                column = next;
            }
            while (rowOfColumn[column] != 0);

            do
            {
                int previous = way[column];
                rowOfColumn[column] = rowOfColumn[previous];
                column = previous;
            }
            while (column != 0);
        }

        double total = 0;
        for (int j = 1; j <= size; j++)
            total += cost[rowOfColumn[j] - 1, j - 1];
        return total;
    }
}
