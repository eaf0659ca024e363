using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Terminal;

/// <summary>Prints derivations as chains: formula, source, inputs, partial derivatives, method version.</summary>
public static class DerivationText
{
    /// <summary>Writes all of them.</summary>
    public static void Write(TextWriter output, IEnumerable<Derivation> derivations)
    {
        output.WriteLine();
        output.WriteLine("How each number came to be");
        foreach (Derivation d in derivations)
        {
            output.WriteLine();
            Write(output, d, 1);
        }
    }

    private static void Write(TextWriter output, Derivation d, int depth)
    {
        string pad = new(' ', 2 * depth);
        output.WriteLine($"{pad}{d.Name} = {Value(d.Value, d.Unit)}");
        output.WriteLine($"{pad}  formula  {d.Formula}");
        output.WriteLine($"{pad}  source   {d.Source}");
        output.WriteLine($"{pad}  method   {d.Method}");
        foreach (DerivationInput i in d.Inputs)
        {
            string partial = i.Partial is { } p ? $"; ∂ = {p.ToString("0.######", CultureInfo.InvariantCulture)} {Units(d.Unit, i.Unit)}" : "";
            output.WriteLine($"{pad}  {i.Symbol} = {Value(i.Value, i.Unit)}  {i.Name}{(i.IsDefault ? " (default, not measured)" : "")}{partial}");
            if (i.From is { } from)
                Write(output, from, depth + 2);
        }
    }

    private static string Value(double value, string unit)
    {
        string text = double.IsFinite(value) ? value.ToString("0.######", CultureInfo.InvariantCulture) : "not known";
        return unit is "1" or "" ? text : unit == "deg" ? text + "°" : $"{text} {unit}";
    }

    private static string Units(string of, string per) => (of, per) switch
    {
        ("1" or "", "1" or "") => "",
        (_, "1" or "") => of,
        ("1" or "", _) => "per " + per,
        _ => $"{of}/{per}",
    };
}
