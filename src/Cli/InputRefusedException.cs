namespace Whetwright.Cli;

/// <summary>Wrong input or arguments: each message names the field, its value and what would be right. Ends with <see cref="ExitCode.WrongInput"/>.</summary>
public sealed class InputRefusedException(IReadOnlyList<string> messages) : Exception(string.Join(Environment.NewLine, messages))
{
    /// <summary>One message.</summary>
    public InputRefusedException(string message)
        : this([message])
    {
    }

    /// <summary>The messages.</summary>
    public IReadOnlyList<string> Messages { get; } = messages;
}
