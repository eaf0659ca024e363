using Whetwright.Core.Metrology.Learning;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges;

/// <summary>What a log says, in words; the pages of the room say it alike.</summary>
internal static class RigGaugeWords
{
    public static string Signed(double deg, UnitsView units, int decimals = 2) => (deg > 0 && units.Number(deg, decimals).Any(c => c is >= '1' and <= '9') ? "+" : "") + units.Angle(deg, decimals);

    public static string SteeperOrFlatter(double deg) => deg > 0 ? "steeper" : "flatter";

    /// <summary>The proposal, or what stands.</summary>
    public static string Verdict(WheelJudged judged) => judged.Learnt switch
    {
        { ProposedCorrectionDeg: not null } => "stands clear: take it out",
        { CorrectionInForceDeg: not 0 } => "the correction does its work",
        { Pieces: < BiasLearning.LeastPieces } => "too few pieces to say",
        _ => "nothing stands clear",
    };

    public static string Left(WheelJudged judged, UnitsView units)
    {
        LearntWheel w = judged.Learnt;
        string with = w.CorrectionInForceDeg == 0 ? "than it is set" : $"than it is set, with {Signed(w.CorrectionInForceDeg, units)} taken out already";
        return $"It grinds {units.Angle(Math.Abs(w.LeftDeg))} {SteeperOrFlatter(w.LeftDeg)} {with}, learnt from {units.Number(w.Pieces)} pieces; that is {units.Number(w.ClearBy, 1)} times its own doubt.";
    }

    /// <summary>A step, named.</summary>
    public static string Step(StepFound step, UnitsView units, string wheel)
    {
        string of = step.Of switch { StepOf.Rig => "the whole rig moved (knocked, or a jaw worn)", StepOf.Wheel => $"{wheel} alone moved (seat, or a diameter mistyped)", _ => "rig or wheel, which of the two cannot be told" };
        return $"{units.Date(units.LocalDay(step.When.UtcDateTime))}: {units.Angle(Math.Abs(step.SizeDeg))} {SteeperOrFlatter(step.SizeDeg)} from this piece on (± {units.Angle(2 * step.SizeUDeg)}, k = 2); {of}. As sure as {units.Number(100 * step.Probability)} %.";
    }
}
