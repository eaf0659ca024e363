using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Api;

/// <summary>Readings from programs and other instruments, stored as facts of the piece's open visit.</summary>
internal static class ApiReadings
{
    private const string KeyHeader = "Idempotency-Key";
    private const int LongestKey = 60;

    private static readonly string[] Keys = ["purpose", "happenedAt", "by", "marks", "instrument", "measured"];

    private sealed record Asked(ReadingPurpose Purpose, DateTime? HappenedAt, string By, MeasuredReading? Measured);

    public static async Task<IResult> OneAsync(long id, IDbContextFactory<BookContext> books, CancellationToken cancel) =>
        await OutAsync(id, books, cancel) is { } found ? Results.Json(found) : ApiProblem.Missing(string.Create(CultureInfo.InvariantCulture, $"There is no reading {id} in the book."));

    public static async Task<IResult> PostAsync(long id, HttpContext http, IDbContextFactory<BookContext> books, BookWriter writer, BenchLog log, BookClock clock, CancellationToken cancel)
    {
        string key = http.Request.Headers[KeyHeader].ToString().Trim().Trim('"');
        if (key.Length is 0 or > LongestKey || key.Any(c => c is < '!' or > '~'))
            return ApiProblem.Wrong(new FieldFault(KeyHeader, key.Length == 0 ? null : key, $"a header with a key of your own for this one reading would be right, 1 to {LongestKey} plain characters: sent again, it saves nothing twice"));
        (string? json, IResult? problem) = await ApiBody.ReadAsync(http);
        if (json is null)
            return problem!;
        FormatOutcome<Asked> outcome = FieldReader.Document(json, Keys, Read);
        if (outcome is FormatOutcome<Asked>.Refused refused)
            return ApiProblem.Wrong(ApiProblem.Faults(refused.Errors));
        Asked asked = ((FormatOutcome<Asked>.Read)outcome).Value;

        (Visit? visit, PieceKind kind, IResult? closed) = await VisitAsync(id, books, cancel);
        DateTime now = clock.Now();
        DateTime happened = asked.HappenedAt ?? now;
        if (happened > now.AddMinutes(5))
            return ApiProblem.Wrong(new FieldFault("$.happenedAt", happened.ToString("O", CultureInfo.InvariantCulture), "a time that has passed would be right, in UTC"));

        string? marks = ApiBody.Inner(json, "marks"), instrument = ApiBody.Inner(json, "instrument");
        CombinedReading? combined = null;
        string inputs;
        if (marks is not null)
        {
            marks = WithKind(marks, kind);
            if (Combine(marks, instrument, out combined) is { } wrong)
                return wrong;
            inputs = TypedMarks.Inputs(marks, instrument);
        }
        else
        {
            // The marks' place stays empty: there were none, and everything that reads inputs can see so.
            inputs = new JsonObject { ["marks"] = null, ["measured"] = JsonNode.Parse(ApiBody.Inner(json, "measured")!) }.ToJsonString(JsonSerializerOptions.Default);
        }

        Submitted<Reading> saved = await writer.SubmitAsync(
            "api-" + key,
            async db =>
            {
                if (visit is null)
                    return new SaveOutcome<Reading>.Refused("PieceId", id.ToString(CultureInfo.InvariantCulture), "a piece that is in the shop would be right");
                List<long> mounts = combined is null ? [] : await MountsAsync(db, log, visit.Id, marks!, asked.By, happened, now, cancel);
                ReadingAbout about = new(visit.Id, asked.Purpose, mounts, happened, now, EnteredBy: asked.By);
                Reading fact = combined is null ? asked.Measured!.ToFact(inputs, asked.By, about) : EyeReading.ToFact(combined, inputs, BenchReading.Method, about);
                return await log.AddAsync(db, fact, Seen.Anything, cancel);
            },
            reading => reading.Id.ToString(CultureInfo.InvariantCulture), cancel);
        switch (saved)
        {
            case Submitted<Reading>.Done done:
                ReadingOut stored = (await OutAsync(long.Parse(done.LedTo, CultureInfo.InvariantCulture), books, cancel))!;
                if (done.Again && !await SameAsync(stored, id, asked.Purpose, inputs, books, cancel))
                    return ApiProblem.Of(StatusCodes.Status409Conflict, "Key used", "This Idempotency-Key was used for another reading; nothing was saved. A key of its own for each reading would be right.", new FieldFault(KeyHeader, key, "a key that was not used before would be right"));
                http.Response.Headers.Location = string.Create(CultureInfo.InvariantCulture, $"/api/v1/readings/{stored.Id}");
                return Results.Json(stored, statusCode: done.Again ? StatusCodes.Status200OK : StatusCodes.Status201Created);
            case Submitted<Reading>.Refused no:
                return closed ?? ApiProblem.Wrong(ApiProblem.Faults(no.Problems));
            default:
                return ApiProblem.Of(StatusCodes.Status409Conflict, "Saved meanwhile", "Somebody else saved a reading here meanwhile; read the piece again and send the reading once more.");
        }
    }

    private static Asked Read(FieldReader root)
    {
        ReadingPurpose purpose = root.RequiredWord("purpose", "found", "check") == "check" ? ReadingPurpose.Check : ReadingPurpose.Found;
        DateTime? happened = null;
        if (root.Text("happenedAt") is { } at)
        {
            if (DateTimeOffset.TryParse(at, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset moment) && moment.Year is >= 1970 and < 9000)
                happened = moment.UtcDateTime;
            else
                root.Fault("happenedAt", "a moment such as 2026-03-02T14:05:00Z would be right");
        }

        string? by = root.Text("by");
        if (by?.Length > 60)
            root.Fault("by", "at most 60 characters would be right");
        if (root.Has("marks") == root.Has("measured"))
            root.Fault("marks", "either marks or measured would be right");
        else if (root.Has("marks") && !root.IsObject("marks"))
            root.Fault("marks", "a document in our marks format would be right");
        if (root.Has("instrument") && !root.IsObject("instrument"))
            root.Fault("instrument", "a document in our instrument format would be right");
        if (root.Has("instrument") && !root.Has("marks"))
            root.Fault("instrument", "goes with marks only; a finished measurement states its own uncertainty");
        MeasuredReading? measured = root.Object("measured", MeasuredReading.Keys) is { } inner ? MeasuredReading.Read(inner) : null;
        return new(purpose, happened, string.IsNullOrWhiteSpace(by) ? "api" : by.Trim(), measured);
    }

    /// <summary>A piece with a back is read against its back: the marks say so where the program did not.</summary>
    private static string WithKind(string marks, PieceKind kind)
    {
        JsonObject document = (JsonObject)JsonNode.Parse(marks)!;
        if (!document.ContainsKey("kind"))
            document["kind"] = kind.Key();
        return document.ToJsonString(JsonSerializerOptions.Default);
    }

    private static IResult? Combine(string marks, string? instrument, out CombinedReading? combined)
    {
        combined = null;
        if (MarksFormat.Read(marks) is FormatOutcome<BenchMarks>.Refused wrongMarks)
            return ApiProblem.Wrong(ApiProblem.Faults(wrongMarks.Errors, "$.marks"));
        if (instrument is not null && InstrumentFormat.Read(instrument) is FormatOutcome<Instrument>.Refused wrongInstrument)
            return ApiProblem.Wrong(ApiProblem.Faults(wrongInstrument.Errors, "$.instrument"));
        return EyeReading.TryRead(marks, instrument, out combined, out IReadOnlyList<string> faults)
            ? null
            : ApiProblem.Wrong(faults.Select(f => new FieldFault("$.marks", null, f)));
    }

    private static async Task<List<long>> MountsAsync(BookContext db, BenchLog log, long visit, string marks, string by, DateTime happened, DateTime now, CancellationToken cancel)
    {
        List<long> ids = [];
        foreach (JsonNode? placed in (JsonArray)JsonNode.Parse(marks)!["mounts"]!)
        {
            // The marks of one placing, as a document of its own.
            JsonObject own = (JsonObject)JsonNode.Parse(marks)!;
            own["mounts"] = new JsonArray(placed!.DeepClone());
            Mount mount = new() { VisitId = visit, Tip = (string?)placed["tip"], MarksJson = own.ToJsonString(JsonSerializerOptions.Default), HappenedAt = happened, EnteredAt = now, EnteredBy = by };
            if (await log.AddAsync(db, mount, Seen.Anything, cancel) is not SaveOutcome<Mount>.Saved)
                throw new InvalidOperationException("A mount of a visit in the book was refused.");
            ids.Add(mount.Id);
        }

        return ids;
    }

    private static async Task<(Visit? Visit, PieceKind Kind, IResult? Problem)> VisitAsync(long id, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (await db.Pieces.AsNoTracking().FirstOrDefaultAsync(p => p.Id == id, cancel) is not { } piece)
            return (null, default, ApiPieces.None(id));
        return await ApiPieces.OpenVisitAsync(db, id, cancel) is { } open
            ? (open, piece.Kind, null)
            : (null, piece.Kind, ApiProblem.Of(StatusCodes.Status409Conflict, "Not here", "The piece is not in the shop: a reading belongs to a visit. Take it in at the counter first.", new FieldFault("id", id.ToString(CultureInfo.InvariantCulture), "a piece with an open visit would be right")));
    }

    private static async Task<bool> SameAsync(ReadingOut stored, long piece, ReadingPurpose purpose, string inputs, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return stored.PieceId == piece && stored.Purpose == Word(purpose) && await db.Readings.AnyAsync(r => r.Id == stored.Id && r.InputsJson == inputs, cancel);
    }

    private static async Task<ReadingOut?> OutAsync(long id, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (await db.Readings.AsNoTracking().Include(r => r.Visit).FirstOrDefaultAsync(r => r.Id == id, cancel) is not { } r)
            return null;
        return new(
            r.Id, r.VisitId, r.Visit!.PieceId, Word(r.Purpose), r.HappenedAt, r.EnteredAt, r.EnteredBy, r.Method, r.MethodVersion, r.Outcome,
            r.IncludedDeg, r.IncludedUDeg, r.LeftDeg, r.LeftUDeg, r.RightDeg, r.RightUDeg, r.CorrectsId,
            await db.Readings.AnyAsync(later => later.CorrectsId == id, cancel), JsonNode.Parse(r.ResultJson));
    }

    private static string Word(ReadingPurpose purpose) => purpose == ReadingPurpose.Check ? "check" : "found";
}
