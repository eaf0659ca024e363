namespace Whetwright.Cli;

/// <summary>How a command ended.</summary>
public static class ExitCode
{
    /// <summary>Done; a reading of one side only counts as done.</summary>
    public const int Done = 0;

    /// <summary>Our own fault.</summary>
    public const int OurFault = 1;

    /// <summary>Wrong input or arguments.</summary>
    public const int WrongInput = 2;

    /// <summary>The work refused: the reasons say why.</summary>
    public const int WorkRefused = 3;
}
