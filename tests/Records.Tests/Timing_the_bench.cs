using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

/// <summary>When things were done at the bench, as the log holds it: what changes of set-up take is learnt from that.</summary>
public sealed class Timing_the_bench : BookTest
{
    [Fact]
    public async Task A_setting_brings_its_angle_a_pass_its_wheel_and_all_stand_in_the_order_they_happened()
    {
        VisitTag visit = await Visit();
        WheelKept wheel = await Wheel();
        AimChosen aim = await Add(new AimChosen { VisitId = visit.VisitId, LeftDeg = 14, RightDeg = 15, ToleranceDeg = 0.5, HappenedAt = At(0), EnteredAt = At(0) });
        SettingMade setting = await Add(Setting(visit.VisitId, wheel.RigId, aim.Id, At(2)));
        await Add(Pass(visit.VisitId, wheel.Id, At(5), At(5)));
        await Add(new TouchOff { VisitId = visit.VisitId, SettingId = setting.Id, WheelId = wheel.Id, ExpectedMm = 50, MeasuredMm = 50.1, Accepted = true, HappenedAt = At(3), EnteredAt = At(3) });

        IReadOnlyList<BenchMoment> moments = await Get<BenchTimesQuery>().SinceAsync(Clock.Now(), TestContext.Current.CancellationToken);

        Assert.Equal([BenchMomentKind.Other, BenchMomentKind.Dialled, BenchMomentKind.TouchedOff, BenchMomentKind.Pass], moments.Select(m => m.Kind));
        Assert.Equal((wheel.RigId, 15.0), (moments[1].RigId!.Value, moments[1].AngleDeg!.Value));
        Assert.Equal(wheel.Id, moments[3].WheelId);
        Assert.Equal([0, 2, 3, 5], moments.Select(m => Math.Round((m.At - moments[0].At).TotalMinutes, 2)));
    }

    [Fact]
    public async Task What_was_written_on_paper_first_and_what_is_older_than_half_a_year_tells_no_minutes()
    {
        VisitTag visit = await Visit();
        WheelKept wheel = await Wheel();
        await Add(Pass(visit.VisitId, wheel.Id, At(0), At(40)));
        await Add(Pass(visit.VisitId, wheel.Id, At(1).AddDays(-200), At(1).AddDays(-200)));
        Passes kept = await Add(Pass(visit.VisitId, wheel.Id, At(2), At(2)));
        await Add(new Passes { VisitId = visit.VisitId, WheelId = wheel.Id, Side = "both", Count = 1, Stage = 1, CorrectsId = kept.Id, Withdrawn = true, HappenedAt = At(3), EnteredAt = At(3) });

        IReadOnlyList<BenchMoment> moments = await Get<BenchTimesQuery>().SinceAsync(Clock.Now(), TestContext.Current.CancellationToken);

        Assert.Equal([BenchMomentKind.Pass, BenchMomentKind.Other], moments.Select(m => m.Kind)); // taking one back is a moment, and no pass
    }

    private DateTime At(double minute) => Clock.Now().AddHours(-2).AddMinutes(minute);

    private static Passes Pass(long visit, long wheel, DateTime at, DateTime entered) => new() { VisitId = visit, WheelId = wheel, Side = "both", Count = 1, Stage = 1, HappenedAt = at, EnteredAt = entered };

    private static SettingMade Setting(long visit, long rig, long aim, DateTime at) => new()
    {
        VisitId = visit, RigId = rig, AimId = aim, DiameterIds = [], InputsJson = "{}", ResultJson = "{}", Method = "fixtures.plan/1", HappenedAt = at, EnteredAt = at,
    };
}
