using System.Text.Json;
using Whetwright.Core.Sections;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>reshape</c> writes. Described in docs/formats/reshape-result.schema.json.</summary>
public static class ReshapedResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, ReshapeResult result)
    {
        json.Points("edgeMm", result.EdgeMm);
        json.Points("spineOutlineMm", result.SpineMm);
        json.List("gapMm", result.Gaps, g =>
        {
            json.Number("atMm", g.AtMm);
            json.Number("gapMm", g.GapMm);
        });
        json.Number("worstGapMm", result.WorstGapMm);
        json.Number("removedMm2", result.RemovedMm2);
        json.Number("removedMm3", result.RemovedMm3);
        json.Pair("minutes", result.MinutesFrom, result.MinutesTo);
        json.Number("lengthLostMm", result.LengthLostMm);
        json.Reasons(result.Notes);
    }
}
