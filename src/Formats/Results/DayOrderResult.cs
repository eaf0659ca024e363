using System.Text.Json;
using Whetwright.Core.Ordering;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>order</c> writes. Described in docs/formats/order-result.schema.json.</summary>
public static class DayOrderResult
{
    /// <summary>Writes the fields into an open object; what changes take only where it was learnt.</summary>
    public static void Write(Utf8JsonWriter json, BenchDay day, DayOrder order, SetupTimes? setups = null)
    {
        json.WriteStartArray("sequence");
        foreach (int job in order.Sequence)
            json.WriteStringValue(day.Jobs[job].Id);
        json.WriteEndArray();
        json.Number("setupMinutes", order.SetupMinutes);
        json.Number("weightedLateMinutes", order.WeightedLateMinutes);
        json.Number("objective", order.Objective);
        json.Number("bound", order.Bound);
        json.WriteBoolean("proved", order.Proved);
        json.List("times", day.Timetable(order.Sequence), t =>
        {
            json.WriteString("id", day.Jobs[t.Job].Id);
            json.Number("changeMinutes", t.ChangeMinutes);
            json.Number("doneMinutes", t.DoneMinutes);
            json.Number("lateMinutes", t.LateMinutes);
        });
        if (setups is null)
            return;
        json.List("setups", setups.Named(), n =>
        {
            json.WriteString("what", n.What);
            json.Number("minutes", n.Time.Minutes);
            json.Number("fromMinutes", n.Time.FromMinutes);
            json.Number("toMinutes", n.Time.ToMinutes);
            json.WriteNumber("changesSeen", n.Time.Seen);
            json.WriteBoolean("learnt", n.Time.IsLearnt);
            json.WriteString("origin", n.Time.Origin);
        });
    }
}
