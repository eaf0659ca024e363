using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Gauges;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Api;

/// <summary>Settings for programs: the document of <c>set --json</c>.</summary>
internal static class ApiSettings
{
    private static readonly string[] Keys = ["blade", "pieceId", "rig", "rigId", "angleDeg", "toleranceDeg", "scoreMm", "pivotMm", "settingMm", "wheel"];

    private sealed record Asked(long? PieceId, long? RigId, double? AngleDeg, double? ToleranceDeg, (double From, double To)? ScoreMm, Point2? PivotMm, double? SettingMm, string? Wheel);

    public static async Task<IResult> PostAsync(HttpContext http, IDbContextFactory<BookContext> books, WearKept wear, CancellationToken cancel)
    {
        (string? json, IResult? problem) = await ApiBody.ReadAsync(http);
        if (json is null)
            return problem!;
        FormatOutcome<Asked> outcome = FieldReader.Document(json, Keys, Read);
        if (outcome is FormatOutcome<Asked>.Refused refused)
            return ApiProblem.Wrong(ApiProblem.Faults(refused.Errors));
        Asked asked = ((FormatOutcome<Asked>.Read)outcome).Value;

        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<FieldFault> faults = [];
        Piece? piece = null;
        if (asked.PieceId is { } pieceId && (piece = await db.Pieces.AsNoTracking().FirstOrDefaultAsync(p => p.Id == pieceId, cancel)) is null)
            return ApiPieces.None(pieceId);
        Blade? blade = piece is null
            ? Of(BladeFormat.Read(ApiBody.Inner(json, "blade")!), "$.blade", faults)
            : Of(await ApiPieces.BladeAsync(db, piece, cancel), "$.pieceId", faults);
        Rig? rig = asked.RigId is { } rigId ? await RigAsync(db, rigId, await wear.NowAsync(cancel), faults, cancel) : Of(RigFormat.Read(ApiBody.Inner(json, "rig")!), "$.rig", faults);
        AimChosen? aim = asked.AngleDeg is null && piece is not null ? await AimAsync(db, piece.Id, cancel) : null;
        if (asked.AngleDeg is null && aim is null)
            faults.Add(new("$.angleDeg", null, piece is null ? "missing; the angle wanted per side would be right, such as 15" : "missing, and the piece's open visit has no chosen edge; the angle wanted per side would be right"));
        if (faults.Count > 0 || blade is null || rig is null)
            return ApiProblem.Wrong(faults);

        SettingWish wish = (aim is null ? SettingWish.Both(Angle.FromDegrees(asked.AngleDeg!.Value)) : new()
        {
            Left = aim.LeftDeg > 0 ? Angle.FromDegrees(aim.LeftDeg) : null,
            Right = aim.RightDeg > 0 ? Angle.FromDegrees(aim.RightDeg) : null,
        }) with
        {
            Tolerance = (asked.ToleranceDeg ?? aim?.ToleranceDeg) is { } t and > 0 ? Angle.FromDegrees(t) : null,
            ScoreMm = asked.ScoreMm,
            PivotMm = asked.PivotMm,
            SettingMm = asked.SettingMm,
            Wheel = asked.Wheel,
        };
        try
        {
            SettingPlan plan = await Task.Run(() => SettingPlanner.Plan(blade, rig, wish, cancel), cancel);
            return Results.Text(JsonResults.Document(to => SettingResult.Write(to, plan)), "application/json");
        }
        catch (ArgumentException e)
        {
            return ApiProblem.Wrong(new FieldFault("$", null, Faults.Plain(e)));
        }
    }

    private static Asked Read(FieldReader root)
    {
        if (root.Has("blade") == root.Has("pieceId"))
            root.Fault("blade", "either a blade document or a pieceId would be right");
        if (root.Has("rig") == root.Has("rigId"))
            root.Fault("rig", "either a rig document or a rigId would be right");
        // Only the outside here: the documents inside are read by their own formats.
        if (root.Has("blade") && !root.IsObject("blade"))
            root.Fault("blade", "a document in our blade format would be right");
        if (root.Has("rig") && !root.IsObject("rig"))
            root.Fault("rig", "a document in our rig format would be right");
        IReadOnlyList<double> pivot = root.Numbers("pivotMm", Limits.Any, "mm");
        if (root.Has("pivotMm") && pivot.Count != 2)
            root.Fault("pivotMm", "the pivot's foot in the blade frame as [x, y] would be right");
        if (root.Has("settingMm") && !root.Has("pivotMm"))
            root.Fault("settingMm", "goes with pivotMm only: a given distance needs a given clamp");
        return new(
            Key(root, "pieceId"), Key(root, "rigId"), root.AngleDeg("angleDeg", new Limits(0, 60, Open: true)), root.AngleDeg("toleranceDeg", Limits.PositiveTo(20)),
            root.RangeMm("scoreMm", Limits.NotNegative), pivot.Count == 2 ? new(pivot[0], pivot[1]) : null, root.LengthMm("settingMm", Limits.Positive), root.Text("wheel"));
    }

    private static long? Key(FieldReader root, string key)
    {
        if (root.Number(key, new Limits(1, 1L << 53)) is not { } number)
            return null;
        if (number != Math.Floor(number))
            root.Fault(key, "a whole number would be right");
        return (long)number;
    }

    private static T? Of<T>(FormatOutcome<T> outcome, string at, List<FieldFault> faults)
        where T : class
    {
        if (outcome is FormatOutcome<T>.Refused refused)
            faults.AddRange(ApiProblem.Faults(refused.Errors, at));
        return outcome is FormatOutcome<T>.Read read ? read.Value : null;
    }

    private static T? Of<T>(Composed<T> composed, string at, List<FieldFault> faults)
        where T : class
    {
        if (composed is Composed<T>.NotYet not)
            faults.AddRange(not.Missing.Select(m => new FieldFault(at, null, m)));
        return composed is Composed<T>.Ready ready ? ready.Value : null;
    }

    private static async Task<Rig?> RigAsync(BookContext db, long rigId, IReadOnlyDictionary<long, WheelWorn> worn, List<FieldFault> faults, CancellationToken cancel)
    {
        if (await db.Rigs.AsNoTracking().Include(r => r.Wheels).FirstOrDefaultAsync(r => r.Id == rigId, cancel) is not { } rig)
        {
            faults.Add(new("$.rigId", rigId.ToString(System.Globalization.CultureInfo.InvariantCulture), "a rig of the shop would be right"));
            return null;
        }

        long[] wheels = [.. rig.Wheels.Select(w => w.Id)];
        List<DiameterEntry> diameters = await db.Diameters.AsNoTracking().Where(d => wheels.Contains(d.WheelId)).ToListAsync(cancel);
        List<RigStand> stands = await db.RigStands.AsNoTracking().Where(s => s.RigId == rigId).ToListAsync(cancel);
        List<Records.Gauges.CorrectionApplied> corrections = await db.Corrections.AsNoTracking().Where(c => c.RigId == rigId).ToListAsync(cancel);
        return Of(RigOnBench.Compose(rig, diameters, stands, corrections, worn: worn).Rig, "$.rigId", faults);
    }

    private static async Task<AimChosen?> AimAsync(BookContext db, long pieceId, CancellationToken cancel) =>
        await ApiPieces.OpenVisitAsync(db, pieceId, cancel) is { } open
            ? await db.Aims.AsNoTracking().Standing().Where(a => a.VisitId == open.Id).OrderByDescending(a => a.HappenedAt).ThenByDescending(a => a.Id).FirstOrDefaultAsync(cancel)
            : null;
}
