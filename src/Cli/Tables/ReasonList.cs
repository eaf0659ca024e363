using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Tables;

/// <summary>Reasons as a list of sentences, wrapped.</summary>
internal static class ReasonList
{
    private const int Width = 110;

    public static void Write(TextWriter output, string heading, IEnumerable<Reason> reasons) =>
        Write(output, heading, reasons.Select(r => r.Text));

    public static void Write(TextWriter output, string heading, IEnumerable<string> sentences)
    {
        bool first = true;
        foreach (string sentence in sentences)
        {
            if (first)
            {
                output.WriteLine();
                output.WriteLine(heading);
            }

            first = false;
            string lead = "  • ";
            foreach (string line in Wrap(sentence))
            {
                output.WriteLine(lead + line);
                lead = "    ";
            }
        }
    }

    private static IEnumerable<string> Wrap(string text)
    {
        string line = "";
        foreach (string word in text.Split(' '))
        {
            if (line.Length > 0 && line.Length + word.Length + 1 > Width)
            {
                yield return line;
                line = "";
            }

            line = line.Length == 0 ? word : $"{line} {word}";
        }

        yield return line;
    }
}
