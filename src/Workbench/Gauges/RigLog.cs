using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Blades;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Records.Gauges;

namespace Whetwright.Workbench.Gauges;

/// <summary>A piece of the log: set against got, with the correction that was in force.</summary>
/// <param name="Work">What the book says.</param>
/// <param name="Entry">The same for the learning.</param>
public sealed record LoggedPiece(CheckedWork Work, SetGot Entry)
{
    /// <summary>Got less wanted, degrees per side: what the owner sees; corrections do their work here.</summary>
    public double OffDeg => Entry.GotDeg - Entry.AimedDeg;
}

/// <summary>
/// The shop's log as the learning takes it: one entry a checked piece, the mean of both sides, since the holder's roll and an off-centre bar cancel there.
/// From the back for pieces with one. The correction in force is read from the rig that the setting was made with.
/// </summary>
public static class RigLog
{
    /// <summary>Name of "no wheel" in the learning.</summary>
    public const string NoWheel = "0";

    /// <summary>Entries, oldest first; readings that cannot be learnt from are left out.</summary>
    /// <param name="work">From the book.</param>
    /// <param name="wheelName">Name of a wheel, as the setting's rig calls it.</param>
    public static IReadOnlyList<LoggedPiece> Of(IEnumerable<CheckedWork> work, Func<long, string?> wheelName)
    {
        List<LoggedPiece> log = [];
        foreach (CheckedWork w in work)
        {
            double sides = w.Kind.Reference() == AngleReference.Back ? 1 : 2;
            double force = InForce(w.SettingInputsJson, w.WheelId is { } id ? wheelName(id) : null);
            SetGot entry = SetGot.Aimed(new(w.At, TimeSpan.Zero), Key(w.RigId), w.WheelId is { } wheel ? Key(wheel) : NoWheel, w.WantedIncludedDeg / sides, w.GotIncludedDeg / sides, w.GotIncludedUDeg / sides, force);
            if (BiasLearning.Problem([entry]) is null)
                log.Add(new(w, entry));
        }

        return log;
    }

    /// <summary>A key as the learning's names carry it.</summary>
    public static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);

    /// <summary>The correction (got less set) that a stored setting took out: its wheel's, else its rig's, else 0.</summary>
    /// <param name="settingInputsJson">The setting's inputs.</param>
    /// <param name="wheel">The wheel's name; null for none.</param>
    public static double InForce(string settingInputsJson, string? wheel)
    {
        using JsonDocument inputs = JsonDocument.Parse(settingInputsJson);
        if (!inputs.RootElement.TryGetProperty("rig", out JsonElement rig))
            return 0;
        if (wheel is not null && rig.TryGetProperty("wheels", out JsonElement wheels) && wheels.ValueKind == JsonValueKind.Array)
        {
            foreach (JsonElement one in wheels.EnumerateArray())
            {
                if (one.TryGetProperty("name", out JsonElement name) && name.GetString() == wheel && Learnt(one) is { } own)
                    return own;
            }
        }

        return Learnt(rig) ?? 0;
    }

    private static double? Learnt(JsonElement of) => of.TryGetProperty("learntDeg", out JsonElement learnt) && learnt.ValueKind == JsonValueKind.Number ? learnt.GetDouble() : null;
}
