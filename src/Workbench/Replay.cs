using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>One number of a stored result, as it was and as the present method makes it from the same inputs.</summary>
/// <param name="What">"included", "left", "coarse, left".</param>
/// <param name="Unit">"°" or "mm".</param>
/// <param name="Was">As stored; null where there was none.</param>
/// <param name="Now">As recomputed; null where there is none any more.</param>
/// <param name="U">Standard uncertainty to judge the change by: the larger of both, in the unit.</param>
public sealed record Recomputed(string What, string Unit, double? Was, double? Now, double U)
{
    /// <summary>Changed by more than its own uncertainty, or appeared, or went away.</summary>
    public bool Changed => Was is { } was && Now is { } now ? Math.Abs(now - was) > Math.Max(U, Least) : Was is null != Now is null;

    /// <summary>Changes smaller than what is stored of a number are rounding: 0.001° or mm.</summary>
    public const double Least = 0.001;
}

/// <summary>A stored reading or setting under the present method.</summary>
/// <param name="Kind">"reading" or "setting".</param>
/// <param name="Id">Key of the fact.</param>
/// <param name="VisitId">The visit.</param>
/// <param name="At">When it happened, UTC.</param>
/// <param name="MethodWas">Name and version it was made by.</param>
/// <param name="MethodNow">Name and version of today.</param>
/// <param name="Numbers">Its numbers.</param>
/// <param name="CannotBe">Why it cannot be made again; null where it can.</param>
public sealed record Replayed(string Kind, long Id, long VisitId, DateTime At, string MethodWas, string MethodNow, IReadOnlyList<Recomputed> Numbers, string? CannotBe)
{
    /// <summary>One of its numbers changed by more than its uncertainty.</summary>
    public bool Changed => Numbers.Any(n => n.Changed);
}

/// <summary>Stored results recomputed from their own inputs, never from what stands today: what a newer method makes of the same observations.</summary>
public static class Replay
{
    /// <summary>A reading again, from its marks and instrument.</summary>
    public static Replayed Of(Reading stored)
    {
        string was = $"{stored.Method}/{stored.MethodVersion}";
        try
        {
            (CombinedReading? again, string method, string? why) = Again(stored);
            if (again is null)
                return new("reading", stored.Id, stored.VisitId, stored.HappenedAt, was, method, [], why);
            Reading now = EyeReading.ToFact(again, stored.InputsJson, method, new(stored.VisitId, stored.Purpose, stored.MountIds, stored.HappenedAt, stored.EnteredAt));
            return new("reading", stored.Id, stored.VisitId, stored.HappenedAt, was, method,
            [
                Number("included", stored.IncludedDeg, stored.IncludedUDeg, now.IncludedDeg, now.IncludedUDeg),
                Number("left", stored.LeftDeg, stored.LeftUDeg, now.LeftDeg, now.LeftUDeg),
                Number("right", stored.RightDeg, stored.RightUDeg, now.RightDeg, now.RightUDeg),
            ], null);
        }
        catch (Exception e) when (IsOld(e))
        {
            return new("reading", stored.Id, stored.VisitId, stored.HappenedAt, was, BenchReading.Method, [], "Its inputs were kept by another version: " + e.Message);
        }
    }

    /// <summary>A setting again, from its own blade, rig and wish, at the clamp that was dialled.</summary>
    public static Replayed Of(SettingMade stored)
    {
        try
        {
            StoredSetting setting = StoredSetting.Of(stored);
            SettingPlan now = setting.Plan;
            List<Recomputed> numbers = [];
            JsonArray clamps = JsonNode.Parse(stored.ResultJson)?["clamps"] as JsonArray ?? [];
            double u = JsonNode.Parse(stored.ResultJson)?["uDeg"] is JsonValue value && value.TryGetValue(out double known) ? known : 0;
            foreach ((int i, JsonObject clamp) in clamps.OfType<JsonObject>().Index())
            {
                PlannedClamp? made = i < now.Clamps.Count ? now.Clamps[i] : null;
                // The angle is what the piece gets: the change of a dial is judged by it.
                foreach ((int k, JsonObject set) in (clamp["settings"] as JsonArray ?? []).OfType<JsonObject>().Index())
                {
                    DialledSetting? dialled = made is not null && k < made.Settings.Count ? made.Settings[k] : null;
                    double? was = Mm(set, "barCentreToAxisMm") ?? Mm(set, "pivotHeightMm") ?? Mm(set, "liftMm");
                    if (was is null)
                        continue;
                    numbers.Add(new($"{(string?)set["wheel"] ?? "dial"}{((string?)set["side"] is { } side ? ", " + side : "")}", "mm", was, dialled is null ? null : SettingChange.DialledMm(dialled), DialU(dialled, u)));
                }

                numbers.Add(new("strays at worst", "°", Mm(clamp, "worstDeg"), made?.WorstDeg, Math.Max(u, 0.01)));
            }

            return new("setting", stored.Id, stored.VisitId, stored.HappenedAt, stored.Method, SettingOnBench.Method, numbers, now.Clamps.Count == 0 && numbers.Count == 0 ? "It dials nothing." : null);
        }
        catch (Exception e) when (IsOld(e))
        {
            return new("setting", stored.Id, stored.VisitId, stored.HappenedAt, stored.Method, SettingOnBench.Method, [], "Its inputs were kept by another version: " + e.Message);
        }
    }

    private static (CombinedReading? Again, string Method, string? Why) Again(Reading stored)
    {
        if (StoredReading.Photos(stored) is { } photos)
            return (photos.Combine(), photos.Method, null);
        JsonObject inputs = JsonNode.Parse(stored.InputsJson) as JsonObject ?? throw new InvalidDataException("the inputs are no object");
        string? instrument = inputs["instrument"] is JsonObject described ? described.ToJsonString() : null;
        return inputs["marks"] is not JsonObject marks ? (null, BenchReading.Method, "It was kept without its marks.")
            : EyeReading.TryRead(marks.ToJsonString(), instrument, out CombinedReading? again, out IReadOnlyList<string> faults) ? (again, BenchReading.Method, null)
            : (null, BenchReading.Method, string.Join(' ', faults));
    }

    private static Recomputed Number(string what, double? was, double? wasU, double? now, double? nowU) => new(what, "°", was, now, Math.Max(wasU ?? 0, nowU ?? 0));

    /// <summary>Millimetres that the setting's uncertainty is worth: for a wheel, 1° is about R·p·cos α / D; 3 mm a degree stand in for other rigs (chosen, not derived).</summary>
    private static double DialU(DialledSetting? dialled, double uDeg) => dialled is WheelSetting wheel
        ? uDeg * double.DegreesToRadians(wheel.Wheel.RadiusMm * 75 / Math.Max(wheel.BarCentreToAxisMm, 1))
        : uDeg * 3;

    private static double? Mm(JsonObject of, string key) => of[key] is JsonValue value && value.TryGetValue(out double number) ? number : null;

    private static bool IsOld(Exception e) => e is InvalidDataException or JsonException or ArgumentException or InvalidOperationException or FormatException or KeyNotFoundException;
}
