using Whetwright.Cli.Terminal;

namespace Whetwright.Web.Tests.Harness;

/// <summary>Keeps what the command line says.</summary>
internal sealed class WrittenTerminal : ITerminal
{
    public TextWriter Output { get; } = new StringWriter();

    public TextWriter Error { get; } = new StringWriter();

    public TextReader Input { get; } = new StringReader("");

    public int Width => 100;
}
