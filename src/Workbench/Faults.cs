namespace Whetwright.Workbench;

/// <summary>Messages of exceptions as people read them.</summary>
public static class Faults
{
    /// <summary>The message without the parameter's name that the base library adds; value and name in front where both are known.</summary>
    public static string Plain(ArgumentException e)
    {
        string message = e.Message;
        int at = message.IndexOf(" (Parameter '", StringComparison.Ordinal);
        string text = at < 0 ? message : message[..at];
        return e is ArgumentOutOfRangeException { ActualValue: { } value, ParamName: { } name } ? $"{name} is {FormattableString.Invariant($"{value}")}: {text}" : text;
    }
}
