using System.Text.Json;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>gauge</c> writes. Described in docs/formats/gauge-result.schema.json.</summary>
public static class GaugeResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, CrossedStudy study)
    {
        json.List("anova", study.Anova, line =>
        {
            json.WriteString("source", line.Source);
            json.Number("sumOfSquares", line.SumOfSquares);
            json.WriteNumber("degreesOfFreedom", line.DegreesOfFreedom);
            json.Number("meanSquare", line.MeanSquare);
            json.Number("f", line.F);
            json.Number("p", line.P);
        });
        json.WriteBoolean("interactionPooled", study.InteractionPooled);
        json.WriteBoolean("balanced", study.Balanced);
        json.List("components", study.Shares, share =>
        {
            json.WriteString("source", share.Source);
            json.Number("variance", share.Variance);
            json.Number("standardDeviation", share.StandardDeviation);
            json.Number("percentContribution", share.PercentContribution);
            json.Number("percentStudyVariation", share.PercentStudyVariation);
        });
        json.Number("distinctCategories", study.DistinctCategories);
    }
}
