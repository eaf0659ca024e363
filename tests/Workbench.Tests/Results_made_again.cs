using System.Text.Json.Nodes;
using Whetwright.Core.Optics;
using Whetwright.Records.Bench;
using Whetwright.Records.Standing;
using Whetwright.Core.Blades;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Tests;

/// <summary>Stored results under the present method, and when a piece comes again.</summary>
public sealed class Results_made_again
{
    private static readonly DateTime When = new(2026, 3, 2, 10, 0, 0, DateTimeKind.Utc);

    [Fact]
    public void A_reading_made_again_by_the_same_method_is_the_same_and_one_that_another_method_left_is_listed()
    {
        string marks = Samples.Text("kitchen-knife", "marks.json");
        Assert.True(EyeReading.TryRead(marks, null, out CombinedReading? made, out _));
        Reading stored = EyeReading.ToFact(made!, TypedMarks.Inputs(marks, null), BenchReading.Method, new(1, ReadingPurpose.Found, [], When, When));
        Reading off = EyeReading.ToFact(made!, TypedMarks.Inputs(marks, null), "optics.older/1", new(1, ReadingPurpose.Found, [], When, When));
        Reading older = new()
        {
            VisitId = 1, HappenedAt = When, EnteredAt = When, MountIds = [], Method = off.Method, MethodVersion = off.MethodVersion, InputsJson = off.InputsJson, ResultJson = off.ResultJson, Outcome = off.Outcome,
            IncludedDeg = off.IncludedDeg + (3 * off.IncludedUDeg), IncludedUDeg = off.IncludedUDeg, LeftDeg = off.LeftDeg, LeftUDeg = off.LeftUDeg, RightDeg = off.RightDeg, RightUDeg = off.RightUDeg,
        };

        Replayed same = Replay.Of(stored), changed = Replay.Of(older);

        Assert.Null(same.CannotBe);
        Assert.False(same.Changed);
        Assert.Equal(stored.IncludedDeg!.Value, same.Numbers.Single(n => n.What == "included").Now!.Value, 9);
        Assert.Equal("included", Assert.Single(changed.Numbers, n => n.Changed).What);
        Assert.Equal("optics.older/1", changed.MethodWas);
    }

    [Fact]
    public void Inputs_that_nothing_can_read_are_said_to_be_so_and_end_nothing()
    {
        Reading broken = new() { VisitId = 1, HappenedAt = When, EnteredAt = When, MountIds = [], Method = "m", MethodVersion = "1", InputsJson = new JsonObject { ["marks"] = new JsonObject() }.ToJsonString(), ResultJson = "{}", Outcome = "read" };
        SettingMade setting = new() { VisitId = 1, HappenedAt = When, EnteredAt = When, DiameterIds = [], InputsJson = "{}", ResultJson = "{}", Method = "m/1" };

        Assert.NotNull(Replay.Of(broken).CannotBe);
        Assert.NotNull(Replay.Of(setting).CannotBe);
        Assert.False(Replay.Of(broken).Changed);
    }

    [Fact]
    public void A_piece_that_comes_every_hundred_days_is_reminded_of_then_and_one_that_is_here_is_not()
    {
        PieceComing Piece(long id, bool here, params int[] days) => new(id, "knife", PieceKind.DoubleBevel, 1, "owner", false, [.. days.Select(d => When.AddDays(d))], here, [0.05]);
        IReadOnlyList<Reminder> all = Reminders.Of([Piece(1, false, 0, 100, 200, 300, 400, 500), Piece(2, true, 0, 100), Piece(3, false, 0)], When.AddDays(550));

        Assert.DoesNotContain(all, r => r.Piece.PieceId == 2);
        Reminder regular = all.Single(r => r.Piece.PieceId == 1), once = all.Single(r => r.Piece.PieceId == 3);
        Assert.InRange(regular.Days.Median, 90, 115);
        Assert.InRange(regular.Due, When.AddDays(590), When.AddDays(615));
        Assert.Equal(5, regular.Days.Own);
        Assert.Equal(0, once.Days.Own);
        Assert.True(once.Days.To / once.Days.From > regular.Days.To / regular.Days.From);
    }
}
