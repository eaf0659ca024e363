namespace Whetwright.Cli.Terminal;

/// <summary>What the commands write to and read from; tests put their own in its place.</summary>
public interface ITerminal
{
    /// <summary>Results: tables, or one JSON document.</summary>
    TextWriter Output { get; }

    /// <summary>Errors and progress.</summary>
    TextWriter Error { get; }

    /// <summary>Standard input, read where a file is given as <c>-</c>.</summary>
    TextReader Input { get; }

    /// <summary>One line of standard input, not shown while it is typed; null at its end.</summary>
    string? ReadSecretLine() => Input.ReadLine();

    /// <summary>Columns that a table may take.</summary>
    int Width { get; }
}
