using Microsoft.AspNetCore.Http;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Bench.Choose;

/// <summary>What is known of the piece's steel.</summary>
public sealed class SteelForm : WebForm
{
    internal SteelForm(UnitsView units, SteelNoted? stands = null)
    {
        Hardness = Add(new NumberField("hrc", "Hardness") { Unit = "HRC", Min = 20, Max = 70, Required = true });
        Cementite = Volume(units, "fe3c", "Cementite", stands?.CementitePercent);
        ChromiumCarbide = Volume(units, "crc", "Chromium carbide", stands?.ChromiumCarbidePercent);
        ChromiumVanadiumCarbide = Volume(units, "crvc", "the same with vanadium in it", stands?.ChromiumVanadiumCarbidePercent);
        VanadiumCarbide = Volume(units, "mc", "Vanadium or niobium carbide", stands?.VanadiumCarbidePercent);
        TungstenCarbide = Volume(units, "m6c", "Tungsten or molybdenum carbide", stands?.TungstenCarbidePercent);
        VanadiumNitride = Volume(units, "mn", "Vanadium nitride", stands?.VanadiumNitridePercent);
        ChromiumNitride = Volume(units, "crn", "Chromium nitride", stands?.ChromiumNitridePercent);
        Source = Add(new TextField("source", "Known from") { Required = true, MaxLength = 200, Offered = ["the steel's data sheet", "a table, by the stamp", "hardness tested here", "the owner"], Hint = "Shown with the ratio, so that it can be judged." });
        Hardness.Fill(stands?.HardnessHrc, units);
        Source.Typed = stands?.Source ?? "";
    }

    /// <summary>Rockwell C.</summary>
    public NumberField Hardness { get; }

    /// <summary>Cementite.</summary>
    public NumberField Cementite { get; }

    /// <summary>Chromium carbide.</summary>
    public NumberField ChromiumCarbide { get; }

    /// <summary>Chromium carbide with vanadium.</summary>
    public NumberField ChromiumVanadiumCarbide { get; }

    /// <summary>Vanadium or niobium carbide.</summary>
    public NumberField VanadiumCarbide { get; }

    /// <summary>Tungsten or molybdenum carbide.</summary>
    public NumberField TungstenCarbide { get; }

    /// <summary>Vanadium nitride.</summary>
    public NumberField VanadiumNitride { get; }

    /// <summary>Chromium nitride.</summary>
    public NumberField ChromiumNitride { get; }

    /// <summary>Where it is known from.</summary>
    public TextField Source { get; }

    /// <summary>The volumes, in the order of the page.</summary>
    public IReadOnlyList<NumberField> Volumes =>
        [Cementite, ChromiumCarbide, ChromiumVanadiumCarbide, VanadiumCarbide, TungstenCarbide, VanadiumNitride, ChromiumNitride];

    internal SteelNoted Fact(long visit, long? corrects, DateTime now) => new()
    {
        VisitId = visit,
        CorrectsId = corrects,
        HappenedAt = now,
        EnteredAt = now,
        Source = Source.Value!,
        HardnessHrc = Hardness.Value!.Value,
        CementitePercent = Cementite.Value ?? 0,
        ChromiumCarbidePercent = ChromiumCarbide.Value ?? 0,
        ChromiumVanadiumCarbidePercent = ChromiumVanadiumCarbide.Value ?? 0,
        VanadiumCarbidePercent = VanadiumCarbide.Value ?? 0,
        TungstenCarbidePercent = TungstenCarbide.Value ?? 0,
        VanadiumNitridePercent = VanadiumNitride.Value ?? 0,
        ChromiumNitridePercent = ChromiumNitride.Value ?? 0,
    };

    private NumberField Volume(UnitsView units, string name, string label, double? percent)
    {
        NumberField field = Add(new NumberField(name, label) { Unit = "% by volume", Min = 0, Max = 40 });
        field.Fill(percent is > 0 ? percent : null, units);
        return field;
    }
}

/// <summary>Keeps the steel with the piece, and takes it back.</summary>
internal static class SteelStep
{
    public static Task<IResult> SaveAsync(string tag, HttpContext http, BenchVisitQuery visits, ChoiceQueries before, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            SteelForm form = new(units);
            if (await form.ReadAsync(http))
            {
                // Noted at an earlier visit: a new entry, which counts from now on. Noted at this one: a correction.
                long? corrects = visit.Steel is { } stands && stands.VisitId == visit.Visit.Id ? stands.Id : null;
                Submitted<SteelNoted> saved = await desk.AddAsync(form, form.Fact(visit.Visit.Id, corrects, desk.Now()), BenchDoor.Address(visit, BenchStep.Choose), cancel: cancel);
                if (BenchDesk.Answer(saved, form, "Steel kept with the piece.", theirs => (new SteelForm(units, theirs), theirs.Id)) is { } done)
                    return done;
            }

            return await ChooseStep.WithSteelAsync(visit, form, visits, before, units, cancel);
        }, cancel);

    public static Task<IResult> ForgetAsync(string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            if (visit.Steel is not { } stands)
                return Page.SeeOther(BenchDoor.Address(visit, BenchStep.Choose), "No steel was noted.");
            DateTime now = desk.Now();
            SteelNoted back = new() { VisitId = stands.VisitId, CorrectsId = stands.Id, Withdrawn = true, HappenedAt = now, EnteredAt = now, Source = stands.Source, HardnessHrc = stands.HardnessHrc };
            Submitted<SteelNoted> saved = await desk.AddAsync(form, back, BenchDoor.Address(visit, BenchStep.Choose), Seen.Anything, cancel);
            return BenchDesk.Answer(saved, form, "Taken back; the book keeps what it was.") ?? Page.SeeOther(BenchDoor.Address(visit, BenchStep.Choose), "Somebody else took it back or corrected it meanwhile.");
        }, cancel);

    /// <summary>The form as it stands.</summary>
    public static async Task<SteelForm> NewAsync(BenchVisit visit, BenchVisitQuery visits, UnitsView units, CancellationToken cancel) =>
        new(units, visit.Steel) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<SteelNoted>(visit.Visit.Id, cancel)) };
}
