using Whetwright.Core.Metrology.Charts;
using Whetwright.Core.Metrology.Learning;

namespace Whetwright.Workbench.Gauges;

/// <summary>One wheel of a rig, or a rig without wheels, as its log judges it.</summary>
/// <param name="RigId">The rig.</param>
/// <param name="WheelId">The wheel; null for a rig without wheels.</param>
/// <param name="Pieces">Its pieces, oldest first.</param>
/// <param name="Rig">What was learnt of the rig.</param>
/// <param name="Learnt">What was learnt of this wheel.</param>
/// <param name="Chart">Got less wanted, piece by piece; null with too few.</param>
/// <param name="Capability">Against the shop's tolerance; null with too few.</param>
/// <param name="ToleranceDeg">The tolerance, per side.</param>
public sealed record WheelJudged(
    long RigId, long? WheelId, IReadOnlyList<LoggedPiece> Pieces, LearntRig Rig, LearntWheel Learnt, IndividualsChart? Chart, Capability? Capability, double ToleranceDeg)
{
    /// <summary>Pieces shown on a chart (chosen, not derived): what a phone can show.</summary>
    public const int Shown = 60;

    /// <summary>Fewest pieces that a chart is drawn from (chosen, not derived): with fewer the limits say nothing.</summary>
    public const int Fewest = 6;

    /// <summary>Eight in a row on one side of the mean call for a look (a usual rule of control charts, [montgomery] ch. 5, from memory).</summary>
    public const int LongRun = 8;

    /// <summary>Pieces on the chart, oldest first.</summary>
    public IReadOnlyList<LoggedPiece> Charted => [.. Pieces.TakeLast(Shown)];

    /// <summary>Σ (x − mean) over the chart: level while nothing changes, a lasting slope where it does.</summary>
    public IReadOnlyList<double> Sums
    {
        get
        {
            double sum = 0;
            return Chart is not { } chart ? [] : [.. chart.Values.Select(x => sum += x - chart.Mean)];
        }
    }

    /// <summary>Points of the chart that end a run of <see cref="LongRun"/> or more on one side of the mean.</summary>
    public IReadOnlyList<int> InLongRuns
    {
        get
        {
            List<int> found = [];
            int run = 0, side = 0;
            for (int i = 0; Chart is { } chart && i < chart.Values.Count; i++)
            {
                int now = Math.Sign(chart.Values[i] - chart.Mean);
                (run, side) = (now != 0 && now == side ? run + 1 : now == 0 ? 0 : 1, now);
                if (run >= LongRun)
                    found.Add(i);
            }

            return found;
        }
    }

    /// <summary>Steps of the rig or of this wheel, oldest first.</summary>
    public IReadOnlyList<StepFound> Steps => [.. Rig.Steps.Where(s => s.Of == StepOf.Rig || s.Wheel == Learnt.Wheel)];

    /// <summary>Mean standard uncertainty of the readings, degrees: the part of the scatter that is not the rig's.</summary>
    public double ReadingUDeg => Math.Sqrt(Pieces.Average(p => p.Entry.UDeg * p.Entry.UDeg));

    /// <summary>Judges a log; the newest rigs first as they stand in it.</summary>
    /// <param name="log">From <see cref="RigLog.Of"/>.</param>
    /// <param name="toleranceDeg">The shop's tolerance, per side.</param>
    /// <param name="changes">Changes noted.</param>
    public static IReadOnlyList<WheelJudged> Of(IReadOnlyList<LoggedPiece> log, double toleranceDeg, IReadOnlyList<KnownChange>? changes = null)
    {
        List<WheelJudged> all = [];
        if (log.Count == 0)
            return all;
        foreach (LearntRig rig in BiasLearning.Learn([.. log.Select(p => p.Entry)], changes: changes))
        {
            foreach (LearntWheel wheel in rig.Wheels)
            {
                LoggedPiece[] pieces = [.. log.Where(p => p.Entry.Rig == rig.Rig && p.Entry.Wheel == wheel.Wheel)];
                double[] off = [.. pieces.TakeLast(Shown).Select(p => p.OffDeg)];
                IndividualsChart? chart = off.Length >= Fewest ? IndividualsChart.Of(off) : null;
                    all.Add(new(
                    pieces[0].Work.RigId, pieces[0].Work.WheelId, pieces, rig, wheel, chart,
                    chart is null ? null : Capability.Of(off, -toleranceDeg, toleranceDeg),
                    toleranceDeg));
            }
        }

        return all;
    }
}
