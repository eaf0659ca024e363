namespace Whetwright.Workbench.Days;

/// <summary>One line of the day.</summary>
/// <param name="Operation">What.</param>
/// <param name="Before">What came before; null for the first.</param>
/// <param name="ChangeMinutes">Set-up before it.</param>
/// <param name="BeginMinutes">Begins, minutes from the start.</param>
/// <param name="EndMinutes">Ends.</param>
/// <param name="LateMinutes">Past its promise.</param>
public sealed record DayLine(DayOperation Operation, DayOperation? Before, double ChangeMinutes, double BeginMinutes, double EndMinutes, double LateMinutes)
{
    /// <summary>What changes, in words: "same angle, other wheel".</summary>
    public string Change
    {
        get
        {
            if (Before is not { } from)
                return "set up";
            DayOperation to = Operation;
            List<string> words = [from.VisitId == to.VisitId ? "same piece" : "other piece"];
            if (from.RigId != to.RigId)
                return $"{words[0]}, {(to.Rig is { } rig ? $"to {rig}" : "by hand")}";
            words.Add(SetupMinutes.SameAngle(from, to) ? "same angle" : "other angle");
            words.Add(from.WheelId == to.WheelId && from.AbrasiveId == to.AbrasiveId ? "same wheel" : "other wheel");
            return string.Join(", ", words);
        }
    }
}
