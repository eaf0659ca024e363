using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;

namespace Whetwright.Simulated;

/// <summary>Invented bench days, seeded.</summary>
internal static class InventedDays
{
    /// <summary>Pieces of three stages each (coarse wheel, fine wheel, strop) at one of four angles on one of two rigs; two in five are promised.</summary>
    /// <param name="random">Seeded.</param>
    /// <param name="pieces">How many.</param>
    /// <param name="promises">False for a day on which nothing is promised.</param>
    public static BenchDay Stages(Random random, int pieces, bool promises = true)
    {
        List<BenchJob> jobs = [];
        List<(int Piece, int Rig, int Angle, int Stage)> at = [(-1, 0, 15, 0)];
        int[] angles = [12, 14, 15, 18];
        for (int piece = 0; piece < pieces; piece++)
        {
            int rig = random.Next(4) == 0 ? 1 : 0, angle = angles[random.Next(4)];
            double? due = promises && random.Next(5) < 2 ? random.Next(60, 20 * pieces) : null;
            for (int stage = 0; stage < 3; stage++)
            {
                jobs.Add(new($"{piece}.{stage}", random.Next(stage == 2 ? 1 : 4, stage == 2 ? 4 : 12), stage == 2 ? due : null, random.Next(1, 4), stage > 0 ? [$"{piece}.{stage - 1}"] : []));
                at.Add((piece, rig, angle, stage));
            }
        }

        double[][] changes = [.. at.Select(a => at.Select(b => (a.Rig != b.Rig ? 5.0 : 0) + (a.Stage != b.Stage ? 3 : 0) + (a.Angle != b.Angle ? 2 : 0) + (a.Piece != b.Piece ? 1 : 0)).ToArray())];
        return BenchDay.Create(jobs, changes, [new(180, 210), new(330, 345)], returnToStart: false, out Reason? reason) ?? throw new InvalidOperationException(reason!.Text);
    }

    /// <summary>Any small day: whole numbers, some promises, some jobs that wait, breaks, perhaps back to the start.</summary>
    public static BenchDay Any(Random random, int jobs)
    {
        BenchJob[] made = new BenchJob[jobs];
        for (int job = 0; job < jobs; job++)
        {
            string[] after = job > 0 && random.Next(3) == 0 ? [$"{random.Next(job)}"] : [];
            made[job] = new($"{job}", random.Next(3, 30), random.Next(2) == 0 ? random.Next(10, 120) : null, random.Next(0, 4), after);
        }

        double[][] changes = [.. Enumerable.Range(0, jobs + 1).Select(_ => Enumerable.Range(0, jobs + 1).Select(_ => (double)random.Next(0, 15)).ToArray())];
        BenchBreak[] breaks = random.Next(2) == 0 ? [new(40, 55), new(90, 95)] : [];
        return BenchDay.Create(made, changes, breaks, random.Next(2) == 0, out Reason? reason) ?? throw new InvalidOperationException(reason!.Text);
    }
}
