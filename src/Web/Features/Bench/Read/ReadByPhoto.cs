using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>Photos of the marks, and what is told beside them.</summary>
public sealed class PhotoForm : WebForm
{
    internal PhotoForm(BenchKit kit)
    {
        Lit = Add(new PhotoField("lit", "Photo with the room light on") { Required = true, Hint = "The whole printed target, sharp, laser on, the marks not burnt out." });
        Tip = Add(new ChoiceField("tip", "Where is the tip?", [new("up", "Up"), new("down", "Down"), new("unknown", "Not noted")]) { Required = true, Hint = "It says which mark belongs to which side of the blade." });
        Dark = Add(new PhotoField("dark", "The same in the dark") { Hint = "Exposed for the marks, camera untouched: makes a hard case surer." });
        Turned = Add(new PhotoField("turned", "The blade turned end for end") { Hint = "Same holder: then the holder's roll drops out of the sides." });
        TurnedDark = Add(new PhotoField("turnedDark", "The turned blade in the dark"));
        Instrument = Add(InstrumentChoice.ForPhotos(kit));
        Laser = Add(new ChoiceField("laser", "Laser", [new("", "Find out"), new("red", "Red"), new("green", "Green")]));
        Beam = Add(new ChoiceField("beam", "Beam", [new("", "Find out"), new("dot", "Dot"), new("line", "Line")]));
        Bevels = Add(new ChoiceField("bevels", "Form of the bevels", [new("", "Not told"), new("flat", "Flat"), new("convex", "Convex"), new("hollow", "Hollow")]) { Hint = "It says which end of a drawn-out mark is the shoulder, which the apex." });
        Tip.Fill("up");
    }

    /// <summary>Lit.</summary>
    public PhotoField Lit { get; }

    /// <summary>Tip in the first placing.</summary>
    public ChoiceField Tip { get; }

    /// <summary>Dark.</summary>
    public PhotoField Dark { get; }

    /// <summary>Turned end for end.</summary>
    public PhotoField Turned { get; }

    /// <summary>Turned, dark.</summary>
    public PhotoField TurnedDark { get; }

    /// <summary>Target and instrument.</summary>
    public ChoiceField Instrument { get; }

    /// <summary>Colour.</summary>
    public ChoiceField Laser { get; }

    /// <summary>Dot or line.</summary>
    public ChoiceField Beam { get; }

    /// <summary>Flat, convex or hollow.</summary>
    public ChoiceField Bevels { get; }

    /// <summary>Where the tip was; null where nobody noted it.</summary>
    internal TipDirection? TipNoted => Tip.Value switch { "up" => TipDirection.Up, "down" => TipDirection.Down, _ => null };

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (TurnedDark.Files.Count > 0 && Turned.Files.Count == 0)
            Turned.Refuse("has no photo, but its dark one has; the lit photo of the turned blade would be right beside it");
        if (Turned.Files.Count > 0 && TipNoted is null)
            Tip.Refuse("is not noted, and the blade was turned; up or down, as it was in the first photo, would be right");
    }
}

/// <summary>The screen of <see cref="PhotoForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Step">Read or Check.</param>
/// <param name="Form">The form.</param>
/// <param name="ExpectDeg">The steepest bevel to expect; null where it is not known.</param>
public sealed record PhotoScreen(BenchVisit Visit, BenchStep Step, PhotoForm Form, double? ExpectDeg) : BenchScreen(Visit, Step);

/// <summary>Reads the edge by photos.</summary>
internal static class ReadByPhoto
{
    public static Task<IResult> ShowAsync(string tag, ReadingPurpose purpose, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            PhotoForm form = new(await visits.KitAsync(cancel)) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<Reading>(visit.Visit.Id, cancel)) };
            return Of(visit, purpose, form);
        }, cancel);

    public static Task<IResult> SaveAsync(
        string tag, ReadingPurpose purpose, HttpContext http, BenchVisitQuery visits, BenchDesk desk, BenchPhotos photos, IPhotoStore store, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            BenchKit kit = await visits.KitAsync(cancel);
            PhotoForm form = new(kit);
            if (!await form.ReadAsync(http) || InstrumentChoice.Photos(kit, form.Instrument) is not { } told)
                return Of(visit, purpose, form);
            Sent sent = await Sent.FromAsync(form, cancel);
            PhotoChoice choice = told with { Tip = form.TipNoted, Laser = Named(form.Laser), Beam = Named(form.Beam), Form = PhotoReadings.Form(Named(form.Bevels)), HasBack = visit.Piece.Kind.Reference() == AngleReference.Back };
            PhotoResult result;
            try
            {
                result = await photos.OneAtATimeAsync(() => PhotoReadings.Read(sent.Shots, choice), cancel);
            }
            catch (ArgumentException e)
            {
                form.Refuse(Faults.Plain(e));
                return Of(visit, purpose, form);
            }

            if (result.Seen is not { } seen)
            {
                foreach (var reason in result.Reading.Reasons)
                    Sent.FieldOf(form, reason.Text).Refuse(reason.Text);
                return Of(visit, purpose, form);
            }

            Submitted<Reading> saved = await desk.WriteAsync(form, db => KeepAsync(db, visit, purpose, sent, seen, choice, InstrumentChoice.Of(kit, form.Instrument)?.Id, form, desk, store, cancel), Next(visit, purpose), cancel);
            return BenchDesk.Answer(saved, form, seen.Outcome == ReadingOutcome.Refused ? "Photos kept; they tell no angle yet." : "Read.") ?? Of(visit, purpose, form);
        }, cancel);

    /// <summary>Where a reading leads: the step, which shows it.</summary>
    public static string Next(BenchVisit visit, ReadingPurpose purpose) => BenchDoor.Address(visit, purpose.Step());

    /// <summary>The steepest bevel to expect in the beam: the aim at the check, else the reading before.</summary>
    public static double? Expect(BenchVisit visit, ReadingPurpose purpose)
    {
        if (purpose == ReadingPurpose.Check && visit.Aim is { } aim)
            return Math.Max(aim.LeftDeg, aim.RightDeg) + (visit.Piece.Kind.Reference() == AngleReference.Back ? -Math.Max(aim.LeftDeg, aim.RightDeg) / 2 : 0);
        Reading? before = visit.ReadingFor(ReadingPurpose.Found);
        return before?.IncludedDeg / 2;
    }

    private static async Task<SaveOutcome<Reading>> KeepAsync(
        BookContext db, BenchVisit visit, ReadingPurpose purpose, Sent sent, Sight.Reading.PhotoReading seen, PhotoChoice choice, long? instrument, PhotoForm form, BenchDesk desk, IPhotoStore store, CancellationToken cancel)
    {
        DateTime now = desk.Now();
        List<PhotosOfMount> kept = [];
        List<long> mounts = [];
        TipDirection tip = choice.Tip ?? TipDirection.Up;
        for (int i = 0; i < seen.Mounts.Count; i++)
        {
            TipDirection stands = i == 0 ? tip : tip == TipDirection.Up ? TipDirection.Down : TipDirection.Up;
            (byte[] lit, byte[]? dark) = i == 0 ? (sent.Lit, sent.Dark) : (sent.Turned!, sent.TurnedDark);
            if (await PutAsync(lit) is not SaveOutcome<Photo>.Saved litPhoto)
                return new SaveOutcome<Reading>.Refused("Photo", null, "a JPEG or PNG would be right");
            Photo? darkPhoto = dark is null ? null : await PutAsync(dark) is SaveOutcome<Photo>.Saved d ? d.Value : null;
            kept.Add(new(litPhoto.Value.Id, darkPhoto?.Id, stands));
            Mount mount = new()
            {
                VisitId = visit.Visit.Id,
                Tip = choice.Tip is null ? null : stands == TipDirection.Up ? "up" : "down",
                PhotoId = litPhoto.Value.Id,
                DarkPhotoId = darkPhoto?.Id,
                InstrumentId = instrument,
                HappenedAt = now,
                EnteredAt = now,
            };
            if (await desk.Log.AddAsync(db, mount, Seen.Anything, cancel) is not SaveOutcome<Mount>.Saved)
                throw new InvalidOperationException("A mount of a visit in the book was refused.");
            mounts.Add(mount.Id);
        }

        MarksInPhotos marks = MarksInPhotos.Of(seen, choice, kept);
        Reading fact = EyeReading.ToFact(marks.Combine(), marks.ToJson(), marks.Method, new(visit.Visit.Id, purpose, mounts, now, now));
        return await desk.Log.AddAsync(db, fact, BenchDesk.SeenOf(form), cancel);

        Task<SaveOutcome<Photo>> PutAsync(byte[] bytes) => store.PutAsync(db, new MemoryStream(bytes, writable: false), new(PhotoSubject.Marks, visit.Visit.Id, now), cancel);
    }

    private static string? Named(ChoiceField field) => field.Typed.Length == 0 ? null : field.Value;

    private static IResult Of(BenchVisit visit, ReadingPurpose purpose, PhotoForm form)
    {
        PhotoScreen screen = new(visit, purpose.Step(), form, Expect(visit, purpose));
        return Page.Of<PhotoPage>(screen.Title, screen, Room.Bench, form.Status);
    }

    /// <summary>The bytes that were sent.</summary>
    private sealed record Sent(byte[] Lit, byte[]? Dark, byte[]? Turned, byte[]? TurnedDark)
    {
        private const string LitName = "Photo with the room light on", DarkName = "The dark photo", TurnedName = "The turned photo", TurnedDarkName = "The turned dark photo";

        public PhotoShots Shots => new(PhotoSource.Bytes(LitName, Lit))
        {
            Dark = Dark is null ? null : PhotoSource.Bytes(DarkName, Dark),
            Turned = Turned is null ? null : PhotoSource.Bytes(TurnedName, Turned),
            TurnedDark = TurnedDark is null ? null : PhotoSource.Bytes(TurnedDarkName, TurnedDark),
        };

        public static async Task<Sent> FromAsync(PhotoForm form, CancellationToken cancel) =>
            new((await FirstAsync(form.Lit, cancel))!, await FirstAsync(form.Dark, cancel), await FirstAsync(form.Turned, cancel), await FirstAsync(form.TurnedDark, cancel));

        /// <summary>The field that a reason is about: it begins with the photo's name.</summary>
        public static PhotoField FieldOf(PhotoForm form, string text) =>
            text.StartsWith(TurnedDarkName, StringComparison.Ordinal) ? form.TurnedDark
            : text.StartsWith(TurnedName, StringComparison.Ordinal) ? form.Turned
            : text.StartsWith(DarkName, StringComparison.Ordinal) ? form.Dark
            : form.Lit;

        private static async Task<byte[]?> FirstAsync(PhotoField field, CancellationToken cancel) => field.Files.Count == 0 ? null : await BenchPhotos.BytesAsync(field.Files[0], cancel);
    }
}
