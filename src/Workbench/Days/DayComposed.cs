using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Sections;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Standing;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Days;

/// <summary>A piece for the day.</summary>
/// <param name="Visit">The visit with its facts.</param>
/// <param name="Work">Its work and the kit.</param>
/// <param name="Before">What the last visit left.</param>
/// <param name="PriceMinutes">Bench minutes of its charges; 0 for none.</param>
/// <param name="DueMinutes">Promise, minutes from the start; null for none that day.</param>
/// <param name="Weight">What a minute late weighs.</param>
public sealed record DayPiece(BenchVisit Visit, BenchWork Work, LastTime Before, double PriceMinutes, double? DueMinutes, double Weight);

/// <summary>Operations of a piece: its stages where edge and section are known, else its bench work as one.</summary>
public static class DayComposed
{
    /// <summary>15 minutes for a piece that neither stages nor prices tell of (chosen, not derived).</summary>
    public const double GuessMinutes = 15;

    /// <summary>6 minutes to read, choose and check a piece beside its stages (chosen, not derived).</summary>
    public const double ReadMinutes = 6;

    /// <summary>The operations, in their own order.</summary>
    public static IReadOnlyList<DayOperation> Of(DayPiece piece, LearntRates rates)
    {
        BenchVisit visit = piece.Visit;
        AimChosen? aim = visit.Aim ?? piece.Before.Aim;
        double? angle = aim is null ? null : Math.Max(aim.LeftDeg, aim.RightDeg);
        RigKept? rig = piece.Work.Rigs.FirstOrDefault(r => r.Id == (piece.Work.Setting?.RigId ?? piece.Before.Setting?.RigId));
        string id = FormattableString.Invariant($"{visit.Visit.Id:D9}");
        DayOperation Operation(int number, string what, GrindStage? stage, double minutes, string from) => new(
            FormattableString.Invariant($"{id}-{number:D2}"), visit.Visit.Id, visit.Tag, visit.Piece.Name, what, rig?.Id, rig?.Name, stage?.Wheel?.Id, stage?.Abrasive?.Id, angle, minutes, from, piece.DueMinutes, piece.Weight);
        IReadOnlyList<GrindStage> stages = Stages(piece, aim, rig, rates);
        if (stages.Count == 0)
        {
            return piece.PriceMinutes > 0 ? [Operation(1, "bench work", null, piece.PriceMinutes, "the price list")] : [Operation(1, "bench work", null, GuessMinutes, "a guess")];
        }

        bool learnt = stages.All(s => s.Planned is { Abrasive.Rate.IsGuess: false });
        return [.. stages.Select((s, i) => Operation(
            i + 1, s.Name, s, Math.Round(s.Planned!.Minutes - s.Planned.Abrasive.ChangeMinutes + (i == 0 ? ReadMinutes : 0), 1), learnt ? "its stages, learnt rates" : "its stages, guessed rates"))];
    }

    private static IReadOnlyList<GrindStage> Stages(DayPiece piece, AimChosen? aim, RigKept? rig, LearntRates rates)
    {
        BenchVisit visit = piece.Visit;
        if (aim is null || rig is null || BladeOnBench.Compose(visit.Piece, visit.Outlines, visit.Sections) is not Composed<Blade>.Ready { Value: var blade })
            return [];
        if (RigOnBench.Compose(rig, piece.Work.Diameters, [.. piece.Work.Stands.Where(s => s.RigId == rig.Id)], piece.Work.Corrections).Rig is not Composed<Rig>.Ready { Value: var made })
            return [];
        Reading? found = visit.ReadingFor(ReadingPurpose.Found) ?? piece.Before.Check;
        SectionResult? section = Candidates.Weigh(
            blade, FoundAngles.Of(visit.Piece.Kind.Reference(), visit.Piece.Hand, found), new(aim.LeftDeg, aim.RightDeg), aim.Source, "", aim.ToleranceDeg, aim.MicroDeg, visit.ChipMm ?? 0).Cost;
        StagesOnBench plan = StagesOnBench.Of(rig, made, piece.Work.Abrasives, section, rates);
        return plan.Minutes is null ? [] : [.. plan.Stages.Where(s => s is { Needed: true, Planned: not null })];
    }
}
