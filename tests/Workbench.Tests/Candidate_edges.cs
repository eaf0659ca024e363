using System.Text.Json;
using Whetwright.Core.Blades;
using Whetwright.Core.Sections;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;

namespace Whetwright.Workbench.Tests;

public sealed class Candidate_edges
{
    private static readonly DateTime When = new(2026, 3, 2, 10, 0, 0, DateTimeKind.Utc);
    private static readonly Blade Knife = ((FormatOutcome<Blade>.Read)BladeFormat.Read(Samples.Text("kitchen-knife", "blade.json"))).Value;
    private static readonly Piece Row = new() { Name = "sample", Kind = PieceKind.DoubleBevel, LengthMm = 210 };
    private static readonly AimChosen Last = new() { HappenedAt = When, EnteredAt = When, Source = TargetSource.Own, LeftDeg = 13, RightDeg = 13.5, ToleranceDeg = 0.4, MicroDeg = 16 };

    private static readonly HouseRule[] Rules =
    [
        new() { Name = "chisels", Kind = PieceKind.Chisel, AngleDeg = 25, Order = 1 },
        new() { Name = "long knives", Kind = PieceKind.DoubleBevel, FromLengthMm = 180, AngleDeg = 15, ToleranceDeg = 0.5, Order = 2 },
        new() { Name = "all knives", AngleDeg = 18, Order = 3 },
    ];

    [Fact]
    public void Are_the_found_one_last_times_and_the_first_rule_that_fits()
    {
        IReadOnlyList<Candidate> cards = Candidates.For(Knife, new(17, 17.5), Last, Rules, Row, 0, 0.5);

        Assert.Equal("Found LastTime HouseRule", string.Join(' ', cards.Select(c => c.Source)));
        Assert.Equal((13.0, 13.5, 0.4, 16.0), (cards[1].Angles.LeftDeg, cards[1].Angles.RightDeg, cards[1].ToleranceDeg, cards[1].MicroDeg!.Value));
        Assert.Equal(("long knives", 15.0), (cards[2].Name, cards[2].Angles.LeftDeg));
    }

    [Fact]
    public void Cost_what_the_command_line_says_they_cost()
    {
        Candidate card = Candidates.Weigh(Knife, new(17, 17.5), new(13, 13), TargetSource.Own, "own", 0.5, null, 0.2);
        string file = Path.GetTempFileName();
        File.WriteAllText(file, JsonSerializer.Serialize(new
        {
            behindEdgeMm = Knife.BehindEdge!.Value.Millimetres,
            primaryHalfDeg = Knife.PrimaryHalf!.Value.Degrees,
            landMm = Knife.Land!.Value.Millimetres,
            chipMm = 0.2,
            old = new { leftDeg = 17.0, rightDeg = 17.5 },
            @new = new { leftDeg = 13.0, rightDeg = 13.0 },
            lengthMm = Knife.Edge.LengthMm,
            heightMm = Knife.Height!.Value.Millimetres,
        }));

        JsonElement cli = Samples.Cli("section", file);

        File.Delete(file);
        Assert.Equal(cli.GetProperty("removedMm3").GetDouble(), card.Cost!.RemovedMm3, 1e-6);
        Assert.Equal(cli.GetProperty("heightLostMm").GetDouble(), card.Cost.HeightLostMm, 1e-6);
        Assert.Equal(cli.GetProperty("sides").GetProperty("left").GetProperty("facetWidthMm").GetDouble(), card.Cost.Left.FacetWidthMm, 1e-6);
        Assert.Equal(cli.GetProperty("ratios").GetProperty("push").GetDouble(), card.Ratios!.Push, 1e-6);
        Assert.Equal(RecessionCause.Chip, card.Cost.Cause);
    }

    [Fact]
    public void Without_the_angle_found_say_why_there_is_no_cost()
    {
        Candidate card = Candidates.Weigh(Knife, null, new(13, 13), TargetSource.Own, "own", 0.5, null, 0);

        Assert.Null(card.Cost);
        Assert.Contains(card.WhyNoCost, r => r.Text.Contains("angle found is not known", StringComparison.Ordinal));
        Assert.DoesNotContain(PlainWords.Of(card.WhyNoCost), r => r.Text.Contains("Mm", StringComparison.Ordinal));
    }
}
