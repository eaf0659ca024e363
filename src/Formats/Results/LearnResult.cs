using System.Text.Json;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>learn</c> writes. Described in docs/formats/learn-result.schema.json.</summary>
public static class LearnResult
{
    /// <summary>Writes the fields into an open object.</summary>
    /// <param name="json">Where to.</param>
    /// <param name="rigs">What was learnt.</param>
    /// <param name="line">The file's line of an entry of the log.</param>
    public static void Write(Utf8JsonWriter json, IReadOnlyList<LearntRig> rigs, Func<int, int> line) => json.List("rigs", rigs, rig =>
    {
        json.WriteString("rig", rig.Rig);
        json.Number("meanDeg", rig.MeanDeg);
        json.Number("meanUDeg", rig.UDeg);
        json.Number("scatterDeg", rig.ScatterDeg);
        json.List("wheels", rig.Wheels, wheel =>
        {
            json.WriteString("wheel", wheel.Wheel);
            json.WriteNumber("pieces", wheel.Pieces);
            json.Number("biasDeg", wheel.BiasDeg);
            json.Number("uDeg", wheel.UDeg);
            json.Pair("intervalDeg", wheel.Interval.FromDeg, wheel.Interval.ToDeg);
            json.Number("proposedCorrectionDeg", wheel.ProposedCorrectionDeg);
        });
        json.List("steps", rig.Steps, step =>
        {
            json.WriteString("of", step.Of switch { StepOf.Rig => "rig", StepOf.Wheel => "wheel", _ => "rig-or-wheel" });
            json.WriteString("wheel", step.Wheel);
            json.WriteString("when", step.When.ToString("yyyy-MM-ddTHH:mmK", System.Globalization.CultureInfo.InvariantCulture));
            json.WriteNumber("line", line(step.At));
            json.WriteNumber("noticedLine", line(step.NoticedAt));
            json.Number("sizeDeg", step.SizeDeg);
            json.Number("sizeUDeg", step.SizeUDeg);
            json.Number("probability", step.Probability);
        });
        json.WriteStartArray("wildLines");
        foreach (LearningTrace t in rig.Trace.Where(t => t.WildProbability > 0.5))
            json.WriteNumberValue(line(t.At));
        json.WriteEndArray();
    });
}
