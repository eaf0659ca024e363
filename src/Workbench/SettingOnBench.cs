using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>A setting with what it was made from.</summary>
/// <param name="Plan">What to dial.</param>
/// <param name="InputsJson">Blade, rig and wish, enough to make it again.</param>
/// <param name="Blade">The blade.</param>
/// <param name="Rig">The rig.</param>
/// <param name="Wish">The wish.</param>
public sealed record SettingOnBench(SettingPlan Plan, string InputsJson, Blade Blade, Rig Rig, SettingWish Wish)
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "fixtures.setting/1";

    /// <summary>Makes a setting.</summary>
    /// <param name="blade">Blade, ready.</param>
    /// <param name="rig">Rig, ready.</param>
    /// <param name="aim">Angles wanted.</param>
    /// <param name="pivotMm">A clamp to keep instead of a search: last time's.</param>
    /// <param name="cancellationToken">Stops the search.</param>
    public static SettingOnBench Make(Composed<Blade>.Ready blade, Composed<Rig>.Ready rig, AimChosen aim, Point2? pivotMm = null, CancellationToken cancellationToken = default)
    {
        JsonObject inputs = new()
        {
            ["blade"] = JsonNode.Parse(blade.Json),
            ["rig"] = JsonNode.Parse(rig.Json),
            ["wish"] = new JsonObject
            {
                ["leftDeg"] = aim.LeftDeg,
                ["rightDeg"] = aim.RightDeg,
                ["toleranceDeg"] = aim.ToleranceDeg,
                ["pivotMm"] = pivotMm is { } p ? new JsonArray(p.X, p.Y) : null,
            },
        };
        SettingWish wish = Wanted(aim.LeftDeg, aim.RightDeg, aim.ToleranceDeg, pivotMm);
        return new(SettingPlanner.Plan(blade.Value, rig.Value, wish, cancellationToken), inputs.ToJsonString(), blade.Value, rig.Value, wish);
    }

    /// <summary>Makes a stored setting again from its inputs under the present method.</summary>
    /// <param name="stored">The fact.</param>
    /// <param name="rig">Another rig document in place of the one stored: the rig as it stands now.</param>
    /// <param name="cancellationToken">Stops the search.</param>
    /// <exception cref="InvalidDataException">The stored inputs cannot be read under the present formats.</exception>
    public static SettingOnBench Again(SettingMade stored, Composed<Rig>.Ready? rig = null, CancellationToken cancellationToken = default)
    {
        JsonObject inputs = JsonNode.Parse(stored.InputsJson) as JsonObject ?? throw new InvalidDataException("The setting's inputs are no object.");
        Blade blade = BladeFormat.Read(inputs["blade"]!.ToJsonString()) is FormatOutcome<Blade>.Read b ? b.Value : throw new InvalidDataException("The setting's blade cannot be read.");
        Rig used = rig?.Value ?? (RigFormat.Read(inputs["rig"]!.ToJsonString()) is FormatOutcome<Rig>.Read r ? r.Value : throw new InvalidDataException("The setting's rig cannot be read."));
        JsonNode wished = inputs["wish"]!;
        Point2? pivot = wished["pivotMm"] is JsonArray { Count: 2 } p ? new(p[0]!.GetValue<double>(), p[1]!.GetValue<double>()) : null;
        SettingWish wish = Wanted(wished["leftDeg"]!.GetValue<double>(), wished["rightDeg"]!.GetValue<double>(), wished["toleranceDeg"]!.GetValue<double>(), pivot);
        return new(SettingPlanner.Plan(blade, used, wish, cancellationToken), stored.InputsJson, blade, used, wish);
    }

    /// <summary>The fact to store.</summary>
    public SettingMade ToFact(long visitId, long? aimId, RigOnBench rig, DateTime happenedAt, DateTime enteredAt)
    {
        PlannedClamp? clamp = Plan.Clamps.Count > 0 ? Plan.Clamps[0] : null;
        return new()
        {
            VisitId = visitId,
            AimId = aimId,
            RigId = rig.RigId,
            DiameterIds = [.. rig.DiameterIds],
            InputsJson = InputsJson,
            ResultJson = JsonResults.Document(json => SettingResult.Write(json, Plan)),
            Method = Method,
            HappenedAt = happenedAt,
            EnteredAt = enteredAt,
            JawFromHeelMm = clamp?.Jaw?.FromHeelMm,
            ProtrusionMm = clamp?.Jaw?.ProtrusionMm,
            PivotXMm = clamp?.Pivot?.X,
            PivotYMm = clamp?.Pivot?.Y,
        };
    }

    private static SettingWish Wanted(double leftDeg, double rightDeg, double toleranceDeg, Point2? pivotMm) => new()
    {
        Left = leftDeg > 0 ? Angle.FromDegrees(leftDeg) : null,
        Right = rightDeg > 0 ? Angle.FromDegrees(rightDeg) : null,
        Tolerance = toleranceDeg > 0 ? Angle.FromDegrees(toleranceDeg) : null,
        PivotMm = pivotMm,
    };
}
