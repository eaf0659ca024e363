using System.Text.Json;
using Whetwright.Core.Abrasives;
using Whetwright.Core.Fixtures;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>plan</c> writes. Described in docs/formats/plan-result.schema.json.</summary>
public static class PlanResult
{
    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, AbrasivePlan plan)
    {
        json.List("stages", plan.Stages, stage =>
        {
            json.WriteString("abrasive", stage.Abrasive.Name);
            json.Number("d50Um", stage.Abrasive.D50Um);
            json.Object("passes", () =>
            {
                json.WriteNumber("left", stage.PassesLeft);
                json.WriteNumber("right", stage.PassesRight);
            });
            json.Pair("passesRange", stage.PassesRange.Fewest, stage.PassesRange.Most);
            json.Object("cutMm2", () =>
            {
                json.Number("left", stage.CutLeftMm2);
                json.Number("right", stage.CutRightMm2);
            });
            json.Number("areaPerPassMm2", stage.Abrasive.Rate.AreaPerPassMm2);
            json.WriteString("rate", stage.Abrasive.Rate.Origin);
            json.Number("surfaceMs", stage.Abrasive.Wheel is { Rpm: { } rpm } wheel ? WheelSpeed.SurfaceMs(wheel.Diameter.Value.Millimetres, rpm) : null);
            json.Number("minutes", stage.Minutes);
            json.List("stops", stage.Stops, stop =>
            {
                json.WriteString("what", stop.What switch { StopFor.PenTest => "pen-test", StopFor.Burr => "burr", _ => "cooling" });
                json.WriteString("side", JsonResults.Word(stop.Side));
                json.Pair("atPass", stop.FromPass, stop.ToPass);
                json.WriteString("text", stop.Text);
            });
        });
        json.Number("minutes", plan.Minutes);
        json.Pair("minutesRange", plan.MinutesRange.Least, plan.MinutesRange.Most);
        json.Reasons(plan.Notes);
    }
}
