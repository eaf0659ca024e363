using Whetwright.Core.Ordering;

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
            SetupChanges changes = BenchSetup.Between(from.Setup(), to.Setup());
            List<string> words = [changes.HasFlag(SetupChanges.Clamp) ? "other piece" : "same piece"];
            if (changes.HasFlag(SetupChanges.Rig))
                return $"{words[0]}, {(to.Rig is { } rig ? $"to {rig}" : "by hand")}";
            words.Add(changes.HasFlag(SetupChanges.Angle) ? "other angle" : "same angle");
            words.Add(changes.HasFlag(SetupChanges.Wheel) ? "other wheel" : "same wheel");
            return string.Join(", ", words);
        }
    }
}
