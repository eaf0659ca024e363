using Whetwright.Core.Metrology.Gauges;
using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Saving;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Demo;

/// <summary>The invented shop measures its measuring: a study by two people, and an angle block read each month while the target's holder slowly sags.</summary>
internal sealed class DemoGauges(GaugeDesk desk, int seed)
{
    private const double RepeatDeg = 0.18, BetweenDeg = 0.12, SagDegPerYear = 0.18;

    // Chance of its own: the story of the pieces stays as it is.
    private readonly DemoChance chance = new(seed);

    /// <summary>Eight edges, two people, three times each.</summary>
    public Task<SaveOutcome<GaugeStudyKept>> StudyAsync(BookContext db, DateTime at, CancellationToken cancel)
    {
        List<GaugeMeasurement> all = [];
        double[] people = [chance.Normal(BetweenDeg), chance.Normal(BetweenDeg)];
        for (int part = 1; part <= 8; part++)
        {
            double edge = chance.Between(26, 36);
            for (int who = 0; who < 2; who++)
            {
                for (int trial = 1; trial <= 3; trial++)
                {
                    double seen = Math.Round(edge + people[who] + chance.Normal(RepeatDeg), 1);
                    all.Add(new(FormattableString.Invariant($"{part}"), who == 0 ? "master" : "helper", FormattableString.Invariant($"{trial}"), seen));
                }
            }
        }

        return desk.KeepStudyAsync(db, "Bench target, eight edges, two people", "deg", StudyText.Write(all), 2, at, cancel);
    }

    /// <summary>The block of 30°, read once.</summary>
    public Task<SaveOutcome<InstrumentCheck>> CheckAsync(BookContext db, DateTime at, double years, CancellationToken cancel) => desk.CheckAsync(db, new()
    {
        Instrument = "Bench target", Reference = "angle block 30°", ReferenceDeg = 30, ReferenceUDeg = 0.02, ReadDeg = Math.Round(30 + (SagDegPerYear * years) + chance.Normal(0.1), 1), ReadUDeg = 0.15, HappenedAt = at,
    }, cancel);
}
