using System.Globalization;
using System.Text;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Results;

namespace Whetwright.Cli.Photos;

/// <summary>
/// The table of a batch, comma-separated (RFC 4180), left and right of the target. Text that a spreadsheet would take for a formula gets a leading
/// apostrophe; numbers are plain.
/// </summary>
internal static class BatchCsv
{
    public static string Header { get; } = string.Join(',', [
        "photo", "outcome", "includedDeg", "includedUDeg", .. Sided("left"), .. Sided("right"), "rollDeg", "rollKnown", "reasonCodes", "reasons",
    ]) + "\r\n";

    public static string Row(string name, CombinedReading reading)
    {
        StringBuilder row = new();
        row.Append(Text(name)).Append(',').Append(ReadingResult.Word(reading.Outcome)).Append(',').Append(Pair(reading.Included));
        foreach (Side side in (Side[])[Side.Left, Side.Right])
        {
            SideReading? s = reading.Sides.FirstOrDefault(x => x.Target == side);
            row.Append(',').Append(s?.Blade switch { Side.Left => "left", Side.Right => "right", _ => "" });
            row.Append(',').Append(Pair(s?.AsRead)).Append(',').Append(Pair(s?.Edge));
            row.Append(',').Append(Number(s?.Primary?.Value.Degrees)).Append(',').Append(Number(s?.Micro?.Value.Degrees));
            row.Append(',').Append(Number(s?.Clarity));
        }

        row.Append(',').Append(Number(reading.Roll?.Value.Degrees)).Append(',').Append(reading.RollKnown ? "true" : "false");
        row.Append(',').Append(Text(string.Join(' ', reading.Reasons.Select(r => r.Code))));
        row.Append(',').Append(Text(string.Join(' ', reading.Reasons.Select(r => r.Text)))).Append("\r\n");
        return row.ToString();
    }

    /// <summary>A text cell: a leading = + - @, tab or line break is disarmed, quotes are doubled.</summary>
    public static string Text(string value)
    {
        string safe = value.Length > 0 && value[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n' ? "'" + value : value;
        return safe.AsSpan().ContainsAny(",\"\r\n") || safe != value ? $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : safe;
    }

    private static string[] Sided(string side) =>
        [$"{side}Blade", $"{side}AsReadDeg", $"{side}AsReadUDeg", $"{side}EdgeDeg", $"{side}EdgeUDeg", $"{side}PrimaryDeg", $"{side}MicroDeg", $"{side}Clarity"];

    private static string Pair(MeasuredAngle? angle) => $"{Number(angle?.Value.Degrees)},{Number(angle?.StandardUncertainty.Degrees)}";

    private static string Number(double? value) =>
        value is { } v && double.IsFinite(v) ? (Math.Round(v, 4) + 0.0).ToString(CultureInfo.InvariantCulture) : "";
}
