using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Records.Saving;
using Whetwright.Sight.Reading;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>One more placing, photographed.</summary>
public sealed class MorePhotoForm : WebForm
{
    internal MorePhotoForm(BenchKit kit)
    {
        Lit = Add(new PhotoField("lit", "Photo with the room light on") { Required = true, Hint = "Same holder, target and laser as before." });
        Tip = Add(new ChoiceField("tip", "Where is the tip now?", [new("up", "Up"), new("down", "Down")]) { Required = true });
        Dark = Add(new PhotoField("dark", "The same in the dark"));
        Instrument = Add(InstrumentChoice.ForPhotos(kit));
    }

    /// <summary>Lit.</summary>
    public PhotoField Lit { get; }

    /// <summary>Tip.</summary>
    public ChoiceField Tip { get; }

    /// <summary>Dark.</summary>
    public PhotoField Dark { get; }

    /// <summary>Target and instrument.</summary>
    public ChoiceField Instrument { get; }
}

/// <summary>The screen of <see cref="MorePhotoForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Step">Read or Check.</param>
/// <param name="Form">The form.</param>
/// <param name="ExpectDeg">The bevel to expect.</param>
public sealed record MorePhotoScreen(BenchVisit Visit, BenchStep Step, MorePhotoForm Form, double? ExpectDeg) : BenchScreen(Visit, Step);

/// <summary>Adds a placing to a reading by photos; marks put right by hand stay as they are.</summary>
internal static class MorePhoto
{
    public static Task<IResult> ShowAsync(string tag, ReadingPurpose purpose, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            if (ShownReading.Of(visit, purpose) is not { Photos: { } photos } reading)
                return Page.NotFound("There is no reading by photo that a placing could be added to.");
            MorePhotoForm form = new(await visits.KitAsync(cancel)) { VersionSeen = BenchDesk.Version(reading.Fact.Id) };
            form.Tip.Fill(photos.Mounts[^1].Tip == TipDirection.Up ? "down" : "up");
            return Of(visit, purpose, form);
        }, cancel);

    public static Task<IResult> SaveAsync(
        string tag, ReadingPurpose purpose, HttpContext http, BenchVisitQuery visits, BenchDesk desk, BenchPhotos photos, IPhotoStore store, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            if (ShownReading.Of(visit, purpose) is not { Photos: { } before } reading)
                return Page.NotFound("There is no reading by photo that a placing could be added to.");
            BenchKit kit = await visits.KitAsync(cancel);
            MorePhotoForm form = new(kit);
            if (!await form.ReadAsync(http) || InstrumentChoice.Photos(kit, form.Instrument) is not { } told)
                return Of(visit, purpose, form);
            TipDirection tip = form.Tip.Value == "down" ? TipDirection.Down : TipDirection.Up;
            byte[] lit = await BenchPhotos.BytesAsync(form.Lit.Files[0], cancel);
            byte[]? dark = form.Dark.Files.Count == 0 ? null : await BenchPhotos.BytesAsync(form.Dark.Files[0], cancel);
            PhotoChoice choice = told with { Tip = tip, HasBack = visit.Piece.Kind.Reference() == AngleReference.Back };
            (MountReading? seen, Reason? reason) = await photos.OneAtATimeAsync(
                () => PhotoReadings.ReadMount(before.Mounts.Count, PhotoSource.Bytes("The photo", lit), dark is null ? null : PhotoSource.Bytes("The dark photo", dark), choice), cancel);
            if (seen is null)
            {
                form.Lit.Refuse(reason!.Text);
                return Of(visit, purpose, form);
            }

            Submitted<Reading> saved = await desk.WriteAsync(form, db => KeepAsync(db, visit, purpose, reading, seen, tip, lit, dark, InstrumentChoice.Of(kit, form.Instrument)?.Id, form, desk, store, cancel), ReadByPhoto.Next(visit, purpose), cancel);
            return BenchDesk.Answer(saved, form, "Placing added.") ?? Of(visit, purpose, form);
        }, cancel);

    private static async Task<SaveOutcome<Reading>> KeepAsync(
        BookContext db, BenchVisit visit, ReadingPurpose purpose, ShownReading reading, MountReading seen, TipDirection tip, byte[] lit, byte[]? dark, long? instrument, MorePhotoForm form, BenchDesk desk, IPhotoStore store, CancellationToken cancel)
    {
        DateTime now = desk.Now();
        if (await store.PutAsync(db, new MemoryStream(lit, writable: false), new(PhotoSubject.Marks, visit.Visit.Id, now), cancel) is not SaveOutcome<Photo>.Saved litPhoto)
            return new SaveOutcome<Reading>.Refused("lit", null, "a JPEG or PNG would be right");
        Photo? darkPhoto = dark is not null && await store.PutAsync(db, new MemoryStream(dark, writable: false), new(PhotoSubject.Marks, visit.Visit.Id, now), cancel) is SaveOutcome<Photo>.Saved d ? d.Value : null;
        Mount mount = new() { VisitId = visit.Visit.Id, Tip = tip == TipDirection.Up ? "up" : "down", PhotoId = litPhoto.Value.Id, DarkPhotoId = darkPhoto?.Id, InstrumentId = instrument, HappenedAt = now, EnteredAt = now };
        if (await desk.Log.AddAsync(db, mount, Seen.Anything, cancel) is not SaveOutcome<Mount>.Saved)
            throw new InvalidOperationException("A mount of a visit in the book was refused.");
        MarksInPhotos marks = reading.Photos!.With(seen, new(litPhoto.Value.Id, darkPhoto?.Id, tip));
        Reading fact = EyeReading.ToFact(marks.Combine(), marks.ToJson(), marks.Method, new(visit.Visit.Id, purpose, [.. reading.Fact.MountIds, mount.Id], now, now, reading.Fact.Id));
        return await desk.Log.AddAsync(db, fact, BenchDesk.SeenOf(form), cancel);
    }

    private static IResult Of(BenchVisit visit, ReadingPurpose purpose, MorePhotoForm form)
    {
        MorePhotoScreen screen = new(visit, purpose.Step(), form, ReadByPhoto.Expect(visit, purpose));
        return Page.Of<MorePhotoPage>(screen.Title, screen, Room.Bench, form.Status);
    }
}
