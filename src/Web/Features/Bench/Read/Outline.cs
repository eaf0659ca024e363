using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>The outline: photographed on the mat, or lengths typed.</summary>
public sealed class OutlineForm : WebForm
{
    private static readonly Choice[] Sides = [new("top", "Top"), new("bottom", "Bottom"), new("left", "Left"), new("right", "Right")];

    internal OutlineForm(UnitsView units)
    {
        Photo = Add(new PhotoField("photo", "Photo of the blade on the mat") { Hint = "From straight above, edge along the mat, heel and tip clear; soft light, no flash." });
        Second = Add(new PhotoField("second", "A second photo, a hand's breadth to the side") { Hint = "Then how high the edge floats over the mat is measured and need not be told." });
        EdgeHeight = Add(new LengthField("edgeHeight", "How high the edge floats over the mat", units) { MinMm = 0, MaxMm = 60, Hint = "At the middle of the edge. Not needed with two photos, nor for a blade on its flank where the spine is told." });
        Spine = Add(new LengthField("spine", "How thick the spine is at the heel", units) { MinMm = 0.2, MaxMm = 30, Hint = "A blade on its flank floats on half of it, and any blade's tip on less." });
        Rests = Add(new ChoiceField("rests", "What the blade lies on", [new("flank", "Its flank, all flat"), new("handle", "Handle and blade")]) { List = true, Hint = "None: on its flank where neither handle nor tang is seen." });
        Edge = Add(new ChoiceField("edge", "Which side of the mat the edge points to", Sides) { List = true, Hint = "The mat's print read upright. None: it is judged from the photo; tell it where edge and spine look alike." });
        Heel = Add(new ChoiceField("heel", "Toward which side of the mat the heel lies", Sides) { List = true, Hint = "None: it is judged from handle, taper and sweep; tell it where both ends look alike." });
        Mat = Add(new ChoiceField("mat", "The mat", [new("a3", "A3"), new("a4", "A4"), new("a4x2", "Two A4 side by side"), new("tabloid", "Tabloid"), new("letter", "Letter")]) { Required = true, List = true });
        Length = Add(new LengthField("length", "Or the length of the edge, heel to tip", units) { MinMm = 5, MaxMm = 2000, Hint = "Without a photo." });
        Height = Add(new LengthField("height", "and the height at the heel", units) { MinMm = 1, MaxMm = 500 });
        Mat.Fill("a3");
    }

    /// <summary>Photo on the mat.</summary>
    public PhotoField Photo { get; }

    /// <summary>From another place.</summary>
    public PhotoField Second { get; }

    /// <summary>Edge over the mat.</summary>
    public LengthField EdgeHeight { get; }

    /// <summary>Thickness of the spine.</summary>
    public LengthField Spine { get; }

    /// <summary>What it lies on; none to judge it.</summary>
    public ChoiceField Rests { get; }

    /// <summary>The side of the mat that the edge points to; none to judge it.</summary>
    public ChoiceField Edge { get; }

    /// <summary>The side of the mat toward which the heel lies; none to judge it.</summary>
    public ChoiceField Heel { get; }

    /// <summary>The mat.</summary>
    public ChoiceField Mat { get; }

    /// <summary>Length typed.</summary>
    public LengthField Length { get; }

    /// <summary>Height typed.</summary>
    public LengthField Height { get; }

    internal MatSide? EdgeToward => Side(Edge);

    internal MatSide? HeelToward => Side(Heel);

    internal MatSheet Sheet => Mat.Value switch
    {
        "a4" => MatLayout.For(KnownPaperSizes.A4, 1).Sheet,
        "a4x2" => MatLayout.For(KnownPaperSizes.A4, 2).Sheet,
        "tabloid" => MatLayout.For(KnownPaperSizes.Tabloid, 1).Sheet,
        "letter" => MatLayout.For(KnownPaperSizes.Letter, 1).Sheet,
        _ => MatLayout.For(KnownPaperSizes.A3, 1).Sheet,
    };

    private static MatSide? Side(ChoiceField field) => Enum.TryParse(field.Value, ignoreCase: true, out MatSide side) ? side : null;

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Photo.Files.Count == 0 && Length.Value is null)
            Refuse("there is neither a photo on the mat nor a length; one of the two would be right");
        if (Second.Files.Count > 0 && Photo.Files.Count == 0)
            Photo.Refuse("has no photo, but the second one has; both would be right");
        if (Rests.Value == "flank" && Spine.Value is { } spine && EdgeHeight.Value is { } high && high > Whetwright.Sight.Outlines.BladeTold.MostOnFlank(spine))
            EdgeHeight.Refuse($"'{EdgeHeight.Typed}' is more than half the spine, on which a blade on its flank floats; half of '{Spine.Typed}' or less, or handle and blade below, would be right");
    }
}

/// <summary>The screen of <see cref="OutlineForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Form">The form.</param>
public sealed record OutlineScreen(BenchVisit Visit, OutlineForm Form) : BenchScreen(Visit, BenchStep.Read);

/// <summary>Takes the outline.</summary>
internal static class Outline
{
    public static Task<IResult> ShowAsync(string tag, BenchVisitQuery visits, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            OutlineForm form = new(units) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<OutlineTaken>(visit.Visit.Id, cancel)) };
            if (visit.SectionNow?.SpineMm is { } spine)
                form.Spine.Fill(Core.Quantities.Length.FromMillimetres(spine));
            return Of(visit, form);
        }, cancel);

    public static Task<IResult> SaveAsync(string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, BenchPhotos photos, IPhotoStore store, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            OutlineForm form = new(units);
            if (!await form.ReadAsync(http))
                return Of(visit, form);
            byte[]? first = form.Photo.Files.Count == 0 ? null : await BenchPhotos.BytesAsync(form.Photo.Files[0], cancel);
            byte[]? second = form.Second.Files.Count == 0 ? null : await BenchPhotos.BytesAsync(form.Second.Files[0], cancel);
            TraceResult? traced = null;
            if (first is not null)
            {
                try
                {
                    (traced, _) = await photos.OneAtATimeAsync(
                        () => Tracing.Trace(PhotoSource.Bytes("The photo", first), second is null ? null : PhotoSource.Bytes("The second photo", second), form.Sheet, form.EdgeHeight.Value?.Millimetres, edgeToward: form.EdgeToward, heelToward: form.HeelToward, spineMm: form.Spine.Value?.Millimetres, onFlank: form.Rests.Value is { } rests ? rests == "flank" : null), cancel);
                }
                catch (ArgumentException e)
                {
                    form.Photo.Refuse(Faults.Plain(e));
                    return Of(visit, form);
                }

                if (traced.Refused)
                {
                    foreach (Reason reason in traced.Reasons)
                        form.Photo.Refuse(reason.Text);
                    return Of(visit, form);
                }
            }

            Submitted<OutlineTaken> saved = await desk.WriteAsync(form, db => KeepAsync(db, visit, form, first, traced, desk, store, cancel), BenchDoor.Address(visit, BenchStep.Read), cancel);
            string told = traced?.LengthMm is { } mm ? $"Outline taken: {units.Length(mm, 1)}{(traced.LengthUMm is { } u ? $" ± {units.Length(2 * u, 1)} (k = 2)" : "")} from heel to tip." : "Length kept.";
            return BenchDesk.Answer(saved, form, told, theirs => (Filled(theirs, units), theirs.Id)) ?? Of(visit, form);
        }, cancel);

    private static OutlineForm Filled(OutlineTaken stands, UnitsView units)
    {
        OutlineForm form = new(units);
        form.Length.Fill(stands.LengthMm is { } length ? Core.Quantities.Length.FromMillimetres(length) : null);
        form.Height.Fill(stands.HeightMm is { } height ? Core.Quantities.Length.FromMillimetres(height) : null);
        return form;
    }

    private static async Task<SaveOutcome<OutlineTaken>> KeepAsync(
        BookContext db, BenchVisit visit, OutlineForm form, byte[]? first, TraceResult? traced, BenchDesk desk, IPhotoStore store, CancellationToken cancel)
    {
        DateTime now = desk.Now();
        Photo? photo = null;
        if (first is not null)
        {
            if (await store.PutAsync(db, new MemoryStream(first, writable: false), new(PhotoSubject.Outline, visit.Visit.Id, now), cancel) is not SaveOutcome<Photo>.Saved put)
                return new SaveOutcome<OutlineTaken>.Refused("photo", null, "a JPEG or PNG would be right");
            photo = put.Value;
        }

        OutlineTaken fact = new()
        {
            VisitId = visit.Visit.Id,
            HappenedAt = now,
            EnteredAt = now,
            CorrectsId = visit.OutlineNow?.Id,
            PhotoId = photo?.Id,
            ResultJson = traced is null ? null : JsonResults.Document(traced.Write),
            Method = traced is null ? null : Tracing.Method,
            LengthMm = traced?.LengthMm ?? form.Length.Value?.Millimetres,
            HeightMm = traced?.HeightMm ?? form.Height.Value?.Millimetres,
            ChipMm = traced?.Chips.Select(c => (double?)c.DepthMm).Max(),
        };
        return await desk.Log.AddAsync(db, fact, BenchDesk.SeenOf(form), cancel);
    }

    private static IResult Of(BenchVisit visit, OutlineForm form)
    {
        OutlineScreen screen = new(visit, form);
        return Page.Of<OutlinePage>(screen.Title, screen, Room.Bench, form.Status);
    }
}
