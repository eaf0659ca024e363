using System.Text;

namespace Whetwright.Cli.Terminal;

/// <summary>The process's own streams, UTF-8.</summary>
internal sealed class ProcessTerminal : ITerminal, IDisposable
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    public TextWriter Output { get; } = new StreamWriter(Console.OpenStandardOutput(), Utf8, 16384) { AutoFlush = false };

    public TextWriter Error { get; } = new StreamWriter(Console.OpenStandardError(), Utf8, 1024) { AutoFlush = true };

    public TextReader Input { get; } = new StreamReader(Console.OpenStandardInput(), Utf8);

    public int Width => 100;

    public string? ReadSecretLine()
    {
        if (Console.IsInputRedirected)
            return Input.ReadLine();
        StringBuilder typed = new();
        while (Console.ReadKey(intercept: true) is { Key: not ConsoleKey.Enter } key)
        {
            if (key.Key == ConsoleKey.Backspace)
                typed.Length = Math.Max(0, typed.Length - 1);
            else if (key.KeyChar != '\0')
                typed.Append(key.KeyChar);
        }

        return typed.ToString();
    }

    public void Dispose()
    {
        Output.Flush();
        Error.Flush();
    }
}
