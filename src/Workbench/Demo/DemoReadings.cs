using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;

namespace Whetwright.Workbench.Demo;

/// <summary>
/// Reads a piece by eye as the shop does: the hidden edge, the holder's hidden roll, a fresh clamping each time and the eye's own noise make
/// marks to half a degree; the same functions as on the bench make a reading of them.
/// </summary>
internal sealed class DemoReadings(DemoChance chance, BenchLog log)
{
    private const double HolderRollDeg = 0.35, ClampingDeg = 0.15, EyeDeg = 0.25;

    /// <summary>Writes mounts and reading; null where the marks told nothing.</summary>
    public async Task<Reading?> ReadAsync(BookContext db, long visit, DemoPiece piece, ReadingPurpose purpose, long? instrumentId, string? instrumentJson, DateTime at)
    {
        string marks = Marks(piece);
        if (!EyeReading.TryRead(marks, instrumentJson, out CombinedReading? reading, out _) || reading is null)
            return null;
        List<long> mounts = [];
        foreach (JsonNode? placed in (JsonArray)JsonNode.Parse(marks)!["mounts"]!)
        {
            JsonObject own = (JsonObject)JsonNode.Parse(marks)!;
            own["mounts"] = new JsonArray(placed!.DeepClone());
            Mount mount = new() { VisitId = visit, Tip = (string?)placed["tip"], MarksJson = own.ToJsonString(), InstrumentId = instrumentId, HappenedAt = at, EnteredAt = at };
            if (await log.AddAsync(db, mount) is SaveOutcome<Mount>.Saved)
                mounts.Add(mount.Id);
        }

        Reading fact = EyeReading.ToFact(reading, TypedMarks.Inputs(marks, instrumentJson), BenchReading.Method, new(visit, purpose, mounts, at, at));
        return await log.AddAsync(db, fact) is SaveOutcome<Reading>.Saved saved ? saved.Value : null;
    }

    private string Marks(DemoPiece piece)
    {
        JsonArray mounts = [];
        foreach (string tip in (string[])["up", "down"])
        {
            double roll = HolderRollDeg + chance.Normal(ClampingDeg);
            // Tip up, the blade's right throws to the target's left (docs/conventions.md); a piece with a back is rolled by half its angle, so both faces throw alike.
            (double left, double right) = piece.HasBack ? (piece.Edge.RightDeg / 2, piece.Edge.RightDeg / 2)
                : tip == "up" ? (piece.Edge.RightDeg, piece.Edge.LeftDeg) : (piece.Edge.LeftDeg, piece.Edge.RightDeg);
            mounts.Add((JsonNode)new JsonObject { ["tip"] = tip, ["left"] = Side(left - roll, piece), ["right"] = Side(right + roll, piece) });
        }

        return new JsonObject { ["formatVersion"] = 1, ["scale"] = "bevel", ["resolutionDeg"] = 0.5, ["scaleDistanceMm"] = 100, ["kind"] = piece.Pattern.Kind.Key(), ["mounts"] = mounts }.ToJsonString();
    }

    private JsonObject Side(double edgeDeg, DemoPiece piece)
    {
        JsonObject side = new() { ["edge"] = new JsonArray(Seen(edgeDeg), Seen(edgeDeg), Seen(edgeDeg)) };
        if (!piece.HasBack)
            side["primary"] = new JsonArray(Seen(piece.PrimaryDeg));
        return side;
    }

    private JsonValue Seen(double deg) => JsonValue.Create(Math.Max(0.5, Math.Round((deg + chance.Normal(EyeDeg)) * 2) / 2));
}
