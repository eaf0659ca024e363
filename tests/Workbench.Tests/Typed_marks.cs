using System.Text.Json;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Workbench.Tests;

public sealed class Typed_marks
{
    private static readonly TypedMount Up = new("up", new("16,5; 16.5; 17", "3", null), new("18.5;19;18,5", "4.5", ""));
    private static readonly TypedMount Down = new("down", new("17 17 17.5", "3", null), new("18; 18; 18.5", "4,5", null));

    [Fact]
    public void The_sample_knife_typed_gives_what_the_command_line_gives_for_its_file()
    {
        string? json = new TypedMarks("bevel", "0,5", "100", [Up, Down]).ToJson(PieceKind.DoubleBevel, out IReadOnlyList<TypedFault> faults);
        Assert.Empty(faults);
        Assert.True(EyeReading.TryRead(json!, null, out CombinedReading? reading, out _));

        using JsonDocument ours = JsonDocument.Parse(JsonResults.Document(j => ReadingResult.Write(j, reading!)));

        JsonElement cli = Samples.Cli("read", "--marks", Samples.At("kitchen-knife", "marks.json"));
        foreach (string key in new[] { "outcome", "includedDeg", "includedUDeg", "sides", "rollDeg", "budget", "measureNext", "reasons" })
            Assert.Equal(cli.GetProperty(key).GetRawText(), ours.RootElement.GetProperty(key).GetRawText());
    }

    [Fact]
    public void With_an_instrument_they_are_the_same_too()
    {
        string? json = new TypedMarks("bevel", "0.5", "100", [Up, Down]).ToJson(PieceKind.DoubleBevel, out _);
        EyeReading.TryRead(json!, Samples.Text("kitchen-knife", "instrument.json"), out CombinedReading? reading, out _);

        JsonElement cli = Samples.Cli("read", "--marks", Samples.At("kitchen-knife", "marks.json"), "--instrument", Samples.At("kitchen-knife", "instrument.json"));

        Assert.Equal(cli.GetProperty("includedDeg").GetDouble(), reading!.Included!.Value.Value.Degrees, 1e-4);
    }

    [Theory]
    [InlineData("14,5; 14.7", new[] { 14.5, 14.7 })]
    [InlineData("14.5 14,7", new[] { 14.5, 14.7 })]
    [InlineData("14 1/2; 15°", new[] { 14.5, 15.0 })]
    [InlineData("", new double[0])]
    public void Repeats_stand_apart_with_a_semicolon_or_a_blank(string typed, double[] expected)
    {
        Assert.Equal(expected, TypedMarks.Repeats(typed, out string? why));
        Assert.Null(why);
    }

    [Theory]
    [InlineData("fourteen", "'fourteen' is not a number")]
    [InlineData("1,000", "may be 1 or 1000")]
    [InlineData("NaN", "not a finite number")]
    public void What_is_no_number_is_refused_and_named(string typed, string says)
    {
        TypedMarks marks = new("bevel", "0.5", null, [new("up", new(typed, null, null), new("15", null, null))]);

        Assert.Null(marks.ToJson(PieceKind.DoubleBevel, out IReadOnlyList<TypedFault> faults));

        TypedFault fault = Assert.Single(faults);
        Assert.Equal("mounts[0].left.edge", fault.Field);
        Assert.Contains(says, fault.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_typed_at_all_and_two_mounts_without_a_tip_are_refused()
    {
        new TypedMarks("bevel", "", "4", [new(null, new("", "", ""), new(null, null, null))]).ToJson(PieceKind.DoubleBevel, out IReadOnlyList<TypedFault> nothing);
        new TypedMarks("bevel", "0.5", null, [Up with { Tip = null }, Down]).ToJson(PieceKind.DoubleBevel, out IReadOnlyList<TypedFault> tipless);

        Assert.Equal("resolution, printedFor, mounts[0].left.edge", string.Join(", ", nothing.Select(f => f.Field)));
        Assert.Equal("mounts[0].tip", Assert.Single(tipless).Field);
    }

    [Theory]
    [InlineData("mounts[0].left.edge[1]: 50° cannot be read on a target; it must lie below 45°.", "mounts[0].left.edge")]
    [InlineData("instrument: missing; marks in millimetres need the distance from edge to target.", "distance")]
    [InlineData("$.scaleDistanceMm is -1: a number above 0 would be right", "printedFor")]
    [InlineData("something else", "")]
    public void A_message_from_deeper_down_finds_its_field(string message, string field) => Assert.Equal(field, TypedMarks.Locate(message).Field);
}
