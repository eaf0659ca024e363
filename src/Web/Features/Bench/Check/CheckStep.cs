using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Read;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Check;

/// <summary>A cut test at heel, middle and tip.</summary>
public sealed class CutForm : WebForm
{
    private static readonly Choice[] How = [new("clean", "Clean"), new("catches", "Catches"), new("tears", "Tears")];

    internal CutForm(CutTest? stands = null)
    {
        Medium = Add(new TextField("medium", "Cut") { Required = true, MaxLength = 60, Offered = ["newsprint", "receipt paper", "printer paper, 80 g", "hemp rope", "tomato skin", "soft wood across the grain", "hair, hanging"], Hint = "What was cut, always the same for the same kind of piece: then tests compare." });
        Heel = Add(new ChoiceField("heel", "At the heel", How));
        Middle = Add(new ChoiceField("middle", "In the middle", How));
        Tip = Add(new ChoiceField("tip", "At the tip", How));
        Medium.Typed = stands?.Medium ?? "newsprint";
        Heel.Fill(stands?.Heel);
        Middle.Fill(stands?.Middle);
        Tip.Fill(stands?.Tip);
    }

    /// <summary>What was cut.</summary>
    public TextField Medium { get; }

    /// <summary>Heel.</summary>
    public ChoiceField Heel { get; }

    /// <summary>Middle.</summary>
    public ChoiceField Middle { get; }

    /// <summary>Tip.</summary>
    public ChoiceField Tip { get; }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Heel.Value is null && Middle.Value is null && Tip.Value is null)
            Middle.Refuse("is not chosen, nor heel nor tip; how it cut at one place at least would be right");
    }
}

/// <summary>A photo of the edge after the work.</summary>
public sealed class AfterForm : WebForm
{
    internal AfterForm() => Photo = Add(new PhotoField("photo", "Photo of the edge") { Required = true });

    /// <summary>The photo.</summary>
    public PhotoField Photo { get; }
}

/// <summary>The step Check.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Reading">The reading after the work; null for none yet.</param>
/// <param name="Cut">The cut test.</param>
/// <param name="After">The photo.</param>
public sealed record CheckScreen(BenchVisit Visit, ShownReading? Reading, CutForm Cut, AfterForm After) : BenchScreen(Visit, BenchStep.Check)
{
    /// <summary>Set against got, side by side; empty without an aim.</summary>
    public IReadOnlyList<SetAgainstGot> Verdicts { get; } = Visit.Aim is { } aim && Reading is not null
        ? SetAgainstGot.Of(Visit.Piece.Kind.Reference(), Visit.Piece.Hand, aim, Reading.Fact)
        : [];

    /// <summary>The cut test that stands.</summary>
    public CutTest? Tested { get; } = BenchVisit.Latest(Visit.CutTests);

    /// <summary>Photos after the work.</summary>
    public IReadOnlyList<Photo> Photos { get; } = [.. Visit.Photos.Where(p => p.Subject == PhotoSubject.After)];
}

/// <summary>Checks the work: set against got, cut test, photo; each may be left out.</summary>
internal static class CheckStep
{
    public static Task<IResult> ShowAsync(string tag, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit => Of(visit, await NewCutAsync(visit, visits, cancel), new()), cancel);

    public static Task<IResult> CutAsync(string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            CutForm form = new();
            if (!await form.ReadAsync(http))
                return Of(visit, form, new());
            DateTime now = desk.Now();
            CutTest fact = new()
            {
                VisitId = visit.Visit.Id,
                HappenedAt = now,
                EnteredAt = now,
                CorrectsId = BenchVisit.Latest(visit.CutTests)?.Id,
                Medium = form.Medium.Value!,
                Heel = form.Heel.Value,
                Middle = form.Middle.Value,
                Tip = form.Tip.Value,
            };
            Submitted<CutTest> saved = await desk.AddAsync(form, fact, BenchDoor.Address(visit, BenchStep.Check), cancel: cancel);
            return BenchDesk.Answer(saved, form, "Cut test kept.", theirs => (new CutForm(theirs), theirs.Id)) ?? Of(visit, form, new());
        }, cancel);

    public static Task<IResult> AfterAsync(string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, IPhotoStore store, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            AfterForm form = new();
            if (!await form.ReadAsync(http))
                return Of(visit, await NewCutAsync(visit, visits, cancel), form);
            byte[] bytes = await BenchPhotos.BytesAsync(form.Photo.Files[0], cancel);
            Submitted<Photo> saved = await desk.WriteAsync(form, db => store.PutAsync(db, new MemoryStream(bytes, writable: false), new(PhotoSubject.After, visit.Visit.Id, desk.Now()), cancel), BenchDoor.Address(visit, BenchStep.Check), cancel);
            return BenchDesk.Answer(saved, form, "Photo kept.") ?? Of(visit, await NewCutAsync(visit, visits, cancel), form);
        }, cancel);

    private static async Task<CutForm> NewCutAsync(BenchVisit visit, BenchVisitQuery visits, CancellationToken cancel) =>
        new(BenchVisit.Latest(visit.CutTests)) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<CutTest>(visit.Visit.Id, cancel)) };

    private static IResult Of(BenchVisit visit, CutForm cut, AfterForm after)
    {
        CheckScreen screen = new(visit, ShownReading.Of(visit, ReadingPurpose.Check), cut, after);
        return Page.Of<CheckPage>(screen.Title, screen, Room.Bench, Math.Max(cut.Status, after.Status));
    }
}
