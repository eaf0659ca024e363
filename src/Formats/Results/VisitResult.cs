using System.Text.Json;
using Whetwright.Core.Visits;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>visit</c> writes: the documents of its parts, each under its verb. Described in docs/formats/visit-result.schema.json.</summary>
public static class VisitResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, VisitPlan plan, string? reference, IReadOnlyList<string> files)
    {
        json.WriteString("outcome", plan.Refused ? "refused" : "planned");
        json.Reasons([.. plan.Refusals, .. plan.Omissions]);
        json.WriteString("reference", reference);
        json.WriteString("piece", plan.Blade.Name);
        Pair(json, "foundDeg", plan.Old);
        Pair(json, "wantedDeg", plan.Wanted);
        Part("read", plan.Reading is null ? null : () => ReadingResult.Write(json, plan.Reading));
        Part("set", plan.Setting is null ? null : () => SettingResult.Write(json, plan.Setting));
        Part("section", plan.Section is null || plan.Ratios is null ? null : () => SectionChangeResult.Write(json, plan.Section, plan.Ratios));
        json.List("touch", plan.PenTests, t =>
        {
            json.WriteString("side", JsonResults.Word(t.Side));
            json.WriteString("on", t.On);
            TouchTestResult.Write(json, t.Forecast);
        });
        json.WriteStartArray("cautions");
        foreach (string caution in plan.Cautions)
            json.WriteStringValue(caution);
        json.WriteEndArray();
        json.WriteStartArray("files");
        foreach (string file in files)
            json.WriteStringValue(file);
        json.WriteEndArray();

        void Part(string key, Action? fields)
        {
            if (fields is null)
                json.WriteNull(key);
            else
                json.Object(key, fields);
        }
    }

    private static void Pair(Utf8JsonWriter json, string key, Core.Sections.SidePair? pair)
    {
        if (pair is null)
        {
            json.WriteNull(key);
            return;
        }

        json.Object(key, () =>
        {
            json.Number("left", pair.LeftDeg);
            json.Number("right", pair.RightDeg);
        });
    }
}
