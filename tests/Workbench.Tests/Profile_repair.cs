using System.Text.Json;
using Whetwright.Core.Blades;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench.Tests;

public sealed class Profile_repair
{
    private static readonly string BladeJson = Samples.Text("kitchen-knife", "blade.json");
    private static readonly Blade Knife = ((FormatOutcome<Blade>.Read)BladeFormat.Read(BladeJson)).Value;

    [Fact]
    public void The_stored_repair_given_to_the_command_line_gives_the_same_numbers()
    {
        (RepairOnBench? repair, _) = RepairOnBench.Make(Knife, new("broken-tip-from-spine") { BrokenOffMm = 8 });
        using JsonDocument stored = JsonDocument.Parse(repair!.Json);
        string file = Path.GetTempFileName();
        File.WriteAllText(file, stored.RootElement.GetProperty("input").GetRawText());

        JsonElement cli = Samples.Cli("reshape", file);

        File.Delete(file);
        foreach (string key in new[] { "worstGapMm", "removedMm3", "minutes", "lengthLostMm", "edgeMm" })
            Assert.True(JsonElement.DeepEquals(cli.GetProperty(key), stored.RootElement.GetProperty("result").GetProperty(key)), key);
    }

    [Fact]
    public void A_tip_broken_off_shortens_the_edge_by_what_is_gone()
    {
        (RepairOnBench? repair, _) = RepairOnBench.Make(Knife, new("broken-tip-from-spine") { BrokenOffMm = 8 });

        Assert.Equal(Knife.Edge.At(Knife.Edge.LengthMm).Place.X - 8, repair!.OldEdgeMm[^1].X, 1e-3);
        Assert.True(repair.Result.RemovedMm3 > 0 && repair.Result.MinutesTo > repair.Result.MinutesFrom);
    }

    [Fact]
    public void Nothing_left_of_the_blade_is_refused_in_words()
    {
        (RepairOnBench? repair, var why) = RepairOnBench.Make(Knife, new("broken-tip-from-spine") { BrokenOffMm = 5000 });

        Assert.Null(repair);
        Assert.Equal("nothing-left", Assert.Single(why).Code);
    }

    [Fact]
    public void The_clamp_is_planned_for_the_edge_as_it_will_be()
    {
        (RepairOnBench? repair, _) = RepairOnBench.Make(Knife, new("broken-tip-from-spine") { BrokenOffMm = 8 });
        DateTime when = new(2026, 3, 2, 10, 0, 0, DateTimeKind.Utc);
        AimChosen aim = new() { HappenedAt = when, EnteredAt = when, LeftDeg = 13, RightDeg = 13, ReshapeJson = repair!.Json };

        Composed<Blade>.Ready after = RepairOnBench.After(new(Knife, BladeJson, []), aim);

        Assert.True(after.Value.Edge.LengthMm < Knife.Edge.LengthMm - 5);
        Assert.Same(Knife, RepairOnBench.After(new(Knife, BladeJson, []), null).Value);
    }
}
