using System.Text.Json;
using Whetwright.Core.Sections;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>section</c> writes. Described in docs/formats/section-result.schema.json.</summary>
public static class SectionChangeResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, SectionResult result, EdgeRatios ratios)
    {
        json.Number("recessionMm", result.RecessionMm);
        json.Number("fullRecessionMm", result.FullRecessionMm);
        json.Object("sides", () =>
        {
            json.Object("left", () => Side(json, result.Left));
            json.Object("right", () => Side(json, result.Right));
        });
        json.Number("removedMm3", result.RemovedMm3);
        json.Number("removedMg", result.RemovedMg);
        json.Object("growthPerMm", () =>
        {
            json.Number("fixedHeight", result.GrowthPerMm.FixedHeight);
            json.Number("shoulder", result.GrowthPerMm.Shoulder);
        });
        json.WriteString("cause", Word(result.Cause));
        json.Number("landLeftMm", result.LandLeftMm);
        json.Number("behindEdgeAfterMm", result.BehindEdgeAfterMm);
        json.Number("heightLostMm", result.HeightLostMm);
        json.Number("heightLeftMm", result.HeightLeftMm);
        json.Number("visitsUntilThinning", result.VisitsUntilThinning);
        json.Object("ratios", () =>
        {
            json.Number("strength", ratios.SectionModulus);
            json.Number("push", ratios.Push);
            json.Number("life", ratios.Life);
        });
        json.Reasons([.. result.Notes, .. ratios.Notes]);
    }

    /// <summary>What set the recession, in files and on screens.</summary>
    public static string Word(RecessionCause cause) => cause switch
    {
        RecessionCause.Nothing => "nothing",
        RecessionCause.Given => "given",
        RecessionCause.Land => "land",
        RecessionCause.Chip => "chip",
        RecessionCause.BluedSteel => "blued-steel",
        RecessionCause.MicroBevel => "micro",
        _ => "full",
    };

    private static void Side(Utf8JsonWriter json, SectionSide side)
    {
        json.Number("facetWidthMm", side.FacetWidthMm);
        json.Number("removedMm2", side.RemovedMm2);
        json.Number("oldFacetWidthMm", side.OldFacetWidthMm);
        json.Number("oldFacetLeftMm", side.OldFacetLeftMm);
    }
}
