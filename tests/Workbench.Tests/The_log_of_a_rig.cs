using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Tests;

/// <summary>From the book's checks to what a rig really grinds, and back into the next setting.</summary>
public sealed class The_log_of_a_rig
{
    private static readonly DateTime Begin = new(2026, 3, 2, 9, 0, 0, DateTimeKind.Utc);

    [Fact]
    public void A_correction_in_force_is_read_from_the_rig_that_the_setting_was_made_with()
    {
        string inputs = """{"rig":{"learntDeg":0.1,"wheels":[{"name":"coarse"},{"name":"fine","learntDeg":-0.3}]}}""";

        Assert.Equal(-0.3, RigLog.InForce(inputs, "fine"));
        Assert.Equal(0.1, RigLog.InForce(inputs, "coarse"));
        Assert.Equal(0.1, RigLog.InForce(inputs, null));
        Assert.Equal(0, RigLog.InForce("""{"rig":{}}""", "fine"));
    }

    /// <summary>By hand: 15° a side wanted with 0.3° taken out is dialled as 14.7°; 30.6° got is 15.3° a side, 0.6° off what was dialled and 0.3° off what was wanted.</summary>
    [Fact]
    public void What_was_set_is_what_was_wanted_less_the_correction_and_both_sides_share_a_piece()
    {
        LoggedPiece piece = Assert.Single(RigLog.Of([Work(0, 30.6, 0.3)], _ => "fine"));

        Assert.Equal(14.7, piece.Entry.SetDeg, 12);
        Assert.Equal(15.3, piece.Entry.GotDeg, 12);
        Assert.Equal(0.1, piece.Entry.UDeg, 12);
        Assert.Equal(0.6, piece.Entry.DifferenceDeg, 12);
        Assert.Equal(0.3, piece.OffDeg, 12);
    }

    [Fact]
    public void A_hidden_bias_is_found_proposed_and_after_it_is_taken_out_not_proposed_again()
    {
        const double hidden = 0.5;
        Random chance = new(11);
        double Noise() => 0.1 * (chance.NextDouble() + chance.NextDouble() + chance.NextDouble() - 1.5);
        CheckedWork[] before = [.. Enumerable.Range(0, 12).Select(i => Work(i, 2 * (15 + hidden + Noise()), 0))];
        WheelJudged first = Assert.Single(WheelJudged.Of(RigLog.Of(before, _ => "fine"), 0.5));
        double learnt = Assert.NotNull(first.Learnt.ProposedCorrectionDeg);

        CheckedWork[] after = [.. before, .. Enumerable.Range(12, 8).Select(i => Work(i, 2 * (15 + hidden - learnt + Noise()), learnt))];
        WheelJudged second = Assert.Single(WheelJudged.Of(RigLog.Of(after, _ => "fine"), 0.5));

        Assert.InRange(hidden, first.Learnt.Interval.FromDeg, first.Learnt.Interval.ToDeg);
        Assert.Null(second.Learnt.ProposedCorrectionDeg);
        Assert.InRange(hidden, second.Learnt.Interval.FromDeg, second.Learnt.Interval.ToDeg);
        Assert.Equal(12, first.Chart!.Values.Count);
        Assert.Equal(0, first.Sums[^1], 9);
    }

    [Fact]
    public void An_applied_correction_moves_the_rig_s_document_and_zero_takes_it_out_again()
    {
        RigKept rig = new() { Name = "bench", RigJson = """{"kind":"wheel-and-bar","learntDeg":0.4,"pivotXMm":[10,260],"pivotDistanceMm":[66,84]}""" };
        WheelKept wheel = new() { Name = "fine", RigId = rig.Id };
        rig.Wheels.Add(wheel);
        DiameterEntry[] diameters = [new() { WheelId = wheel.Id, DiameterMm = 250, UMm = 0.2, HappenedAt = Begin, EnteredAt = Begin }];

        Rig typed = Made(rig, diameters), applied = Made(rig, diameters, Correction(wheel.Id, 0.3, 0)), both = Made(rig, diameters, Correction(wheel.Id, 0.3, 0), Correction(null, -0.1, 1)),
            out1 = Made(rig, diameters, Correction(wheel.Id, 0.3, 0), Correction(wheel.Id, 0, 2));

        Assert.Equal(0.4, typed.LearntCorrection!.Value.Value.Degrees, 9);
        Assert.Equal(0.3, Wheel(applied).LearntCorrection!.Value.Value.Degrees, 9);
        Assert.Equal(-0.1, both.LearntCorrection!.Value.Value.Degrees, 9);
        Assert.Null(Wheel(out1).LearntCorrection);
    }

    [Fact]
    public void A_study_typed_with_decimal_commas_reads_as_one_with_points_and_a_wrong_value_names_its_line()
    {
        (IReadOnlyList<GaugeMeasurement> points, string? fine) = StudyText.Read("part,operator,trial,value\nA,Mira,1,15.2\nA,Mira,2,15.4\n");
        (IReadOnlyList<GaugeMeasurement> commas, _) = StudyText.Read("part;operator;value\nA;Mira;15,2\nA;Mira;15,4\n");

        Assert.Null(fine);
        Assert.Equal(points, commas);
        Assert.Contains("Line 3: value 'abc'", StudyText.Read("part,operator,trial,value\nA,Mira,1,15.2\nA,Mira,2,abc\n").Wrong, StringComparison.Ordinal);
        Assert.Contains("no column 'operator'", StudyText.Read("part,who,value\nA,Mira,15\n").Wrong, StringComparison.Ordinal);
        Assert.Contains("Line 2, value", StudyText.Read("part,operator,trial,value\nA,Mira,1,1.000\n").Wrong, StringComparison.Ordinal);
    }

    private static Rig Made(RigKept rig, DiameterEntry[] diameters, params CorrectionApplied[] corrections) =>
        Assert.IsType<Composed<Rig>.Ready>(RigOnBench.Compose(rig, diameters, [], corrections).Rig).Value;

    private static Wheel Wheel(Rig rig) => Assert.Single(Assert.IsType<WheelAndBarRig>(rig).Wheels);

    private static CorrectionApplied Correction(long? wheel, double deg, int day) => new() { WheelId = wheel, BiasDeg = deg, BiasUDeg = 0.05, HappenedAt = Begin.AddDays(day), EnteredAt = Begin.AddDays(day) };

    private static CheckedWork Work(int day, double gotIncluded, double inForce) => new()
    {
        VisitId = day + 1, Tag = "1047-3", Piece = "knife", Kind = PieceKind.DoubleBevel, At = Begin.AddDays(day), RigId = 1, WheelId = 2, WantedIncludedDeg = 30, GotIncludedDeg = gotIncluded, GotIncludedUDeg = 0.2, ToleranceDeg = 0.5,
        SettingInputsJson = new JsonObject { ["rig"] = inForce == 0 ? new JsonObject() : new JsonObject { ["wheels"] = new JsonArray(new JsonObject { ["name"] = "fine", ["learntDeg"] = inForce }) } }.ToJsonString(),
    };
}
