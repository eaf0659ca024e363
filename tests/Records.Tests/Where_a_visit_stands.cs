using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Where_a_visit_stands : BookTest
{
    private long visit;
    private WheelKept wheel = null!;
    private DiameterEntry diameter = null!;

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        visit = (await Visit()).VisitId;
        wheel = await Wheel();
        diameter = await Diameter(wheel.Id, 250);
    }

    [Fact]
    public async Task A_piece_just_taken_in_needs_to_be_read() => await Expect(Stand.TakenIn, BenchStep.Read);

    [Fact]
    public async Task A_reading_that_was_refused_does_not_count()
    {
        await Read("refused");
        await Expect(Stand.TakenIn, BenchStep.Read);
        await Read("one-side");
        await Expect(Stand.Read, BenchStep.Choose);
    }

    [Fact]
    public async Task It_goes_from_step_to_step_as_the_facts_come_in()
    {
        await Read();
        AimChosen aim = await Aim();
        await Expect(Stand.Chosen, BenchStep.Set);
        SettingMade setting = await Set(aim);
        await Expect(Stand.Chosen, BenchStep.Set); // not before the touch-off
        await TouchOff(setting);
        await Expect(Stand.Set, BenchStep.Grind);
        await Pass(1, "left", 8);
        await Pass(1, "right", 7);
        await Pass(2, "both", 4);
        VisitStanding grinding = await Expect(Stand.Grinding, BenchStep.Grind);
        Assert.Equal([(1, 8, 7), (2, 4, 4)], grinding.Stages.Select(s => (s.Stage, s.Left, s.Right)));
        await Mark(BenchStep.Grind, StepState.Done);
        await Expect(Stand.Ground, BenchStep.Finish);
        await Mark(BenchStep.Finish, StepState.Done);
        await Expect(Stand.Finished, BenchStep.Check);
        await Read(purpose: ReadingPurpose.Check);
        await Expect(Stand.Checked, BenchStep.Check);
        await Mark(BenchStep.Check, StepState.Done);
        await Expect(Stand.Ready, null);
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [visit] }));
        await Expect(Stand.HandedBack, null);
    }

    [Fact]
    public async Task A_wheel_dressed_meanwhile_makes_the_setting_stale_and_says_both_diameters()
    {
        await SetUp();
        DiameterEntry dressed = await Diameter(wheel.Id, 246.5);

        VisitStanding standing = await Expect(Stand.Set, BenchStep.Set);
        Assert.True(standing.MustBeSetAgain);
        Assert.Equal(new StaleWheel(wheel.Id, diameter.Id, 250, dressed.Id, 246.5), Assert.Single(standing.Setting!.StaleWheels));
    }

    [Fact]
    public async Task A_diameter_that_was_mistyped_and_corrected_makes_it_stale_too()
    {
        await SetUp();
        await Diameter(wheel.Id, 205, corrects: diameter.Id);
        await Expect(Stand.Set, BenchStep.Set);
    }

    [Fact]
    public async Task Another_wheel_dressed_leaves_the_setting_as_it_is()
    {
        await SetUp();
        WheelKept other = await Wheel("fine wheel");
        await Diameter(other.Id, 200);
        await Expect(Stand.Set, BenchStep.Grind);
    }

    [Fact]
    public async Task A_dressing_after_the_grinding_is_closed_no_longer_matters()
    {
        await SetUp();
        await Mark(BenchStep.Grind, StepState.Done);
        await Diameter(wheel.Id, 246);
        await Expect(Stand.Ground, BenchStep.Finish);
    }

    [Fact]
    public async Task Another_aim_makes_the_setting_stale()
    {
        await SetUp();
        await Aim();
        Assert.True((await Expect(Stand.Set, BenchStep.Set)).Setting!.AimChanged);
    }

    [Fact]
    public async Task A_slip_rolls_it_back_to_set_until_a_new_touch_off_is_accepted()
    {
        SettingMade setting = await SetUp();
        await Pass(1, "left", 5);
        await Add(new BenchEvent { VisitId = visit, Kind = BenchEventKind.Slipped, AtPass = 5, HappenedAt = Clock.Now(), EnteredAt = Clock.Now() });

        VisitStanding slipped = await Expect(Stand.Grinding, BenchStep.Set);
        Assert.Equal((true, 5), (slipped.Setting!.Slipped, slipped.Setting.SlippedAtPass));
        await TouchOff(setting);
        await Expect(Stand.Grinding, BenchStep.Grind);
    }

    [Fact]
    public async Task A_touch_off_that_was_not_accepted_does_not_close_the_step()
    {
        SettingMade setting = await Set(await Aim());
        await TouchOff(setting, accepted: false);
        await Expect(Stand.Chosen, BenchStep.Set);
    }

    [Fact]
    public async Task A_withdrawn_aim_takes_the_visit_back_to_choose()
    {
        await Read();
        AimChosen aim = await Aim();
        await Add(new AimChosen { VisitId = visit, CorrectsId = aim.Id, Withdrawn = true, HappenedAt = Clock.Now(), EnteredAt = Clock.Now() });
        await Expect(Stand.Read, BenchStep.Choose);
    }

    [Fact]
    public async Task A_skipped_step_is_not_asked_for_again_and_a_reopened_one_is()
    {
        await Mark(BenchStep.Read, StepState.Skipped);
        await Expect(Stand.TakenIn, BenchStep.Choose);
        await Aim();
        await Mark(BenchStep.Read, StepState.Reopened);
        await Expect(Stand.Chosen, BenchStep.Read);
        await Read();
        await Expect(Stand.Chosen, BenchStep.Set);
    }

    [Fact]
    public async Task Grinding_freehand_passes_by_what_nobody_touched()
    {
        await Pass(1, "both", 3);
        VisitStanding standing = await Expect(Stand.Grinding, BenchStep.Grind);
        Assert.Equal(StepProgress.PassedBy, standing[BenchStep.Set]);
    }

    [Fact]
    public async Task The_rack_says_the_same_of_each_piece_as_the_piece_itself()
    {
        await SetUp();
        VisitTag other = await TakenIn(await Piece((await Owner("Jun Ode")).Id), new DateOnly(2026, 3, 1));
        IReadOnlyList<RackLine> rack = await Get<RackQuery>().OpenAsync();

        Assert.Equal([other.VisitId, visit], rack.Select(l => l.VisitId));
        Assert.Equal([(Stand.TakenIn, BenchStep.Read), (Stand.Set, BenchStep.Grind)], rack.Select(l => (l.Standing.Stand, l.Standing.Next!.Value)));
        Assert.Equal([true, false], rack.Select(l => l.IsLate(new DateOnly(2026, 3, 2))));
    }

    [Fact]
    public async Task What_was_done_last_time_is_found_for_the_same_piece_only()
    {
        SettingMade setting = await SetUp();
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [visit] }));
        Whetwright.Records.Pieces.Piece piece = (await Get<History.BookQuery>().VisitAsync(visit))!.Visit.Piece!;
        VisitTag again = await TakenIn(piece);
        VisitTag stranger = await TakenIn(await Piece(piece.OwnerId, "another"));

        LastTime last = await Get<LastTimeQuery>().BeforeAsync(again.VisitId);
        Assert.True(last.CanBeRepeated);
        Assert.Equal((setting.Id, setting.AimId), (last.Setting!.Id, last.Aim!.Id));
        Assert.False((await Get<LastTimeQuery>().BeforeAsync(stranger.VisitId)).CanBeRepeated);
    }

    private async Task<VisitStanding> Expect(Stand stand, BenchStep? next)
    {
        VisitStanding standing = (await Get<StandingQuery>().OneAsync(visit))!;
        Assert.Equal((stand, next), (standing.Stand, standing.Next));
        VisitStanding inHistory = (await Get<History.BookQuery>().VisitAsync(visit))!.Standing;
        Assert.Equal((standing.Stand, standing.Next, standing.ToldAt), (inHistory.Stand, inHistory.Next, inHistory.ToldAt));
        Assert.Equal(standing.Steps, inHistory.Steps);
        Assert.Equal(standing.Stages, inHistory.Stages);
        return standing;
    }

    private async Task<SettingMade> SetUp()
    {
        await Read();
        SettingMade setting = await Set(await Aim());
        await TouchOff(setting);
        return setting;
    }

    private Task<Reading> Read(string outcome = "read", ReadingPurpose purpose = ReadingPurpose.Found) => Add(new Reading
    {
        VisitId = visit, MountIds = [], Method = "reading-combination", MethodVersion = "1", InputsJson = "{}", ResultJson = "{}", Outcome = outcome, Purpose = purpose,
        HappenedAt = Clock.Now(), EnteredAt = Clock.Now(),
    });

    private Task<AimChosen> Aim() => Add(new AimChosen { VisitId = visit, LeftDeg = 13, RightDeg = 13, HappenedAt = Clock.Now(), EnteredAt = Clock.Now() });

    private Task<SettingMade> Set(AimChosen aim) => Add(new SettingMade
    {
        VisitId = visit, RigId = wheel.RigId, DiameterIds = [diameter.Id], AimId = aim.Id, InputsJson = "{}", ResultJson = "{}", Method = "clamp-search 1",
        HappenedAt = Clock.Now(), EnteredAt = Clock.Now(),
    });

    private Task<TouchOff> TouchOff(SettingMade setting, bool accepted = true) => Add(new TouchOff
    {
        VisitId = visit, SettingId = setting.Id, ExpectedMm = 60, MeasuredMm = 60.1, Accepted = accepted, HappenedAt = Clock.Now(), EnteredAt = Clock.Now(),
    });

    private Task<Passes> Pass(int stage, string side, int count) => Add(new Passes
    {
        VisitId = visit, AbrasiveId = 1, Side = side, Count = count, Stage = stage, HappenedAt = Clock.Now(), EnteredAt = Clock.Now(),
    });

    private Task<StepMark> Mark(BenchStep step, StepState state) => Add(new StepMark { VisitId = visit, Step = step, State = state, HappenedAt = Clock.Now(), EnteredAt = Clock.Now() });
}
