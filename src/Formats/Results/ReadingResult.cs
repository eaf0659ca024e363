using System.Text.Json;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>read</c> writes. Described in docs/formats/read-result.schema.json.</summary>
public static class ReadingResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, CombinedReading reading)
    {
        json.WriteString("outcome", Word(reading.Outcome));
        json.Reasons(reading.Reasons);
        json.Number("includedDeg", reading.Included?.Value.Degrees);
        json.Number("includedUDeg", reading.Included?.StandardUncertainty.Degrees);
        json.List("sides", reading.Sides, s => WriteSide(json, s));
        json.Number("rollDeg", reading.Roll?.Value.Degrees);
        json.WriteBoolean("rollKnown", reading.RollKnown);
        json.List("marks", reading.Marks, m =>
        {
            json.WriteString("target", JsonResults.Word(m.Target));
            json.WriteString("role", Word(m.Role));
            json.Point("targetMm", m.AtMm);
            json.Point("photoPx", m.PhotoPx);
            json.Number("deg", m.AsRead.Value.Degrees);
        });
        json.List("budget", reading.Budget, b =>
        {
            json.WriteString("source", b.Source);
            json.Number("uDeg", b.Uncertainty);
        });
        json.List("measureNext", reading.MeasureNext, m =>
        {
            json.WriteString("what", m.What);
            json.Number("uAfterDeg", m.After.Degrees);
        });
    }

    /// <summary>An outcome in files.</summary>
    public static string Word(ReadingOutcome outcome) => outcome switch { ReadingOutcome.Read => "read", ReadingOutcome.OneSide => "one-side", _ => "refused" };

    /// <summary>A mark's role in files.</summary>
    public static string Word(MarkRole role) => role switch { MarkRole.Edge => "edge", MarkRole.Primary => "primary", _ => "micro" };

    private static void WriteSide(Utf8JsonWriter json, SideReading side)
    {
        json.WriteString("target", JsonResults.Word(side.Target));
        json.WriteString("blade", JsonResults.Word(side.Blade));
        json.Number("asReadDeg", side.AsRead?.Value.Degrees);
        json.Number("asReadUDeg", side.AsRead?.StandardUncertainty.Degrees);
        json.Number("edgeDeg", side.Edge?.Value.Degrees);
        json.Number("edgeUDeg", side.Edge?.StandardUncertainty.Degrees);
        json.Number("primaryDeg", side.Primary?.Value.Degrees);
        json.Number("microDeg", side.Micro?.Value.Degrees);
        if (side.Range is { } range)
            json.Pair("rangeDeg", range.Shoulder.Degrees, range.Apex.Degrees);
        else
            json.WriteNull("rangeDeg");
        json.Number("clarity", side.Clarity);
    }
}
