using System.Text.Json;
using Whetwright.Core.Fixtures;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>set</c> writes. Described in docs/formats/set-result.schema.json.</summary>
public static class SettingResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, SettingPlan plan)
    {
        json.WriteString("outcome", plan.Refused ? "refused" : "set");
        json.Reasons([.. plan.Refusals, .. plan.Notes]);
        json.List("clamps", plan.Clamps, c => WriteClamp(json, c));
        json.Number("uDeg", plan.UDeg);
        json.List("measureNext", plan.MeasureNext, m =>
        {
            json.WriteString("what", m.What);
            json.Number("uAfterDeg", m.UAfterDeg);
        });
        json.List("budget", plan.Budget, b =>
        {
            json.WriteString("source", b.Source);
            json.Number("uDeg", b.Uncertainty);
        });
        json.Number("shimMm", plan.ShimMm);
        json.Number("handForceN", plan.HandForceN);
        json.List("cautions", plan.Cautions, r =>
        {
            json.WriteString("code", r.Code);
            json.WriteString("text", r.Text);
        });
        json.List("defaults", plan.Defaults, d =>
        {
            json.WriteString("field", d.Field);
            json.WriteString("value", d.Value);
            json.WriteString("why", d.Why);
        });
    }

    private static void WriteClamp(Utf8JsonWriter json, PlannedClamp clamp)
    {
        json.Number("fromMm", clamp.FromMm);
        json.Number("toMm", clamp.ToMm);
        json.Point("pivotMm", clamp.Pivot);
        json.Number("jawFromHeelMm", clamp.Jaw?.FromHeelMm);
        json.Number("protrusionMm", clamp.Jaw?.ProtrusionMm);
        json.Number("planeTiltDeg", clamp.Jaw?.PlaneTiltDeg);
        json.Number("worstDeg", clamp.WorstDeg);
        json.Number("boundDeg", clamp.BoundDeg);
        json.List("angles", clamp.Angles, a =>
        {
            json.Number("atMm", a.AtMm);
            json.Number("deg", a.Deg);
        });
        json.List("settings", clamp.Settings, s => WriteSetting(json, s));
        switch (clamp.Clears)
        {
            case null:
                json.WriteNull("clears");
                break;
            case { Clears: true }:
                json.WriteBoolean("clears", true);
                break;
            case { } verdict:
                json.Object("clears", () =>
                {
                    json.WriteString("what", verdict.What);
                    json.Number("smallestDeg", verdict.SmallestDeg);
                });
                break;
        }

        if (clamp.TouchOff is { } touch)
        {
            json.Object("touchOff", () =>
            {
                json.Number("atMm", touch.AtMm);
                json.WriteString("what", touch.What);
                json.Number("distanceMm", touch.DistanceMm);
            });
        }
        else
            json.WriteNull("touchOff");
    }

    private static void WriteSetting(Utf8JsonWriter json, DialledSetting setting)
    {
        if (setting is WheelSetting w)
            json.WriteString("wheel", w.Wheel.Name);
        json.WriteString("side", JsonResults.Word(setting.Side));
        switch (setting)
        {
            case WheelSetting wheel:
                json.Number("barCentreToAxisMm", wheel.BarCentreToAxisMm);
                json.Number("barFarSideToWheelMm", wheel.BarFarSideToWheelMm);
                json.Number("barTravelMm", wheel.BarTravelMm);
                if (wheel.Turns is { } turns)
                    json.Number("turns", turns);
                break;
            case RodSetting rod:
                json.Number("pivotHeightMm", rod.PivotHeightMm);
                json.Number("changeMm", rod.ChangeMm);
                break;
            case LiftSetting lift:
                json.Number("liftMm", lift.LiftMm);
                json.Number("atMm", lift.AtMm);
                break;
            case MarkSetting mark:
                json.Number("markedDeg", mark.Marked.Degrees);
                break;
        }

        json.Number("wantedDeg", setting.Wanted.Degrees);
        json.Number("uDeg", setting.UDeg);
    }
}
