using System.CommandLine;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Cli.Commands;

/// <summary>Options that hold measured numbers: bound as text and read as people type them, never by the parser's own number reading.</summary>
internal static class TypedOptions
{
    public static Option<string?> Make(string name, string description, string helpName) =>
        new(name) { Description = description, HelpName = helpName };

    public static double? Mm(this ParseResult parsed, Option<string?> option, Limits limits) =>
        parsed.GetValue(option) is { } text ? Mm(option.Name, text, limits) : null;

    public static double? Deg(this ParseResult parsed, Option<string?> option, Limits limits) =>
        parsed.GetValue(option) is { } text ? Check(option.Name, text, limits, "°", Angle.Parse(text), a => Math.Round(a.Degrees, 12)) : null;

    public static double? Plain(this ParseResult parsed, Option<string?> option, Limits limits, string unit) =>
        parsed.GetValue(option) is { } text ? Check(option.Name, text, limits, unit, TypedNumber.Parse(text), v => v) : null;

    public static double RequiredMm(this ParseResult parsed, Option<string?> option, Limits limits) =>
        parsed.Mm(option, limits) ?? throw Missing(option, limits.ToText("mm"));

    public static double RequiredDeg(this ParseResult parsed, Option<string?> option, Limits limits) =>
        parsed.Deg(option, limits) ?? throw Missing(option, limits.ToText("°"));

    public static double Mm(string name, string text, Limits limits) =>
        Check(name, text, limits, "mm", Length.Parse(text), l => l.Millimetres);

    /// <summary>Two lengths: <c>10,180</c> where both are whole numbers, or separated by a semicolon or a space: <c>10,5;180</c>.</summary>
    public static (double First, double Second)? PairMm(this ParseResult parsed, Option<string[]?> option, Limits limits)
    {
        if (parsed.GetValue(option) is not { Length: > 0 } typed)
            return null;
        string text = string.Join(' ', typed);
        string[] parts = text.Contains(';', StringComparison.Ordinal)
            ? text.Split(';', StringSplitOptions.TrimEntries)
            : typed.Length == 2 ? typed : SplitAtComma(text);
        if (parts.Length != 2)
            throw new InputRefusedException($"{option.Name} is '{text}': two lengths would be right, such as 10,180 or \"10.5;180\" or 10,5 180");
        return (Mm(option.Name, parts[0], limits), Mm(option.Name, parts[1], limits));
    }

    private static string[] SplitAtComma(string text)
    {
        string[] parts = text.Split(',', StringSplitOptions.TrimEntries);
        return parts.Length switch
        {
            2 => parts,
            // 10,5,180,25: four groups are two numbers with decimal commas; three could be either way round.
            4 => [$"{parts[0]},{parts[1]}", $"{parts[2]},{parts[3]}"],
            _ => [],
        };
    }

    private static InputRefusedException Missing(Option option, string right) =>
        new($"{option.Name} is missing; a number {right} would be right");

    private static double Check<T>(string name, string text, Limits limits, string unit, Typed<T> typed, Func<T, double> number)
    {
        switch (typed)
        {
            case Typed<T>.Value v:
                double value = number(v.Of);
                return limits.Allow(value) ? value : throw new InputRefusedException($"{name} is {text}: it must be {limits.ToText(unit)}");
            case Typed<T>.Ambiguous a:
                throw new InputRefusedException($"{name}: {a.Question}");
            case Typed<T>.Refused r:
                throw new InputRefusedException($"{name}: {r.Why}");
            default:
                throw new InvalidOperationException();
        }
    }
}
