using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>The section by calliper and loupe.</summary>
public sealed class LengthsForm : WebForm
{
    internal LengthsForm(UnitsView units, SectionMeasured? stands = null)
    {
        BehindEdge = Add(new LengthField("behindEdge", "Thickness behind the edge", units) { MinMm = 0.01, MaxMm = 20, Hint = "Calliper just above the shoulder of the bevel." });
        PrimaryHalf = Add(new AngleField("primaryHalf", "Primary grind, half-angle", units) { MinDeg = 0, MaxDeg = 45, Hint = "From the mid-plane; often 1 to 4°. The primary's mark reads it." });
        Land = Add(new LengthField("land", "Width of the dull land", units) { MinMm = 0, MaxMm = 10, Hint = "The shiny strip of a blunt apex, under the loupe; 0 where none is seen." });
        Chip = Add(new LengthField("chip", "Deepest chip", units) { MinMm = 0, MaxMm = 50 });
        Spine = Add(new LengthField("spine", "Thickness at the spine", units) { MinMm = 0.1, MaxMm = 30 });
        Height = Add(new LengthField("height", "Height at the heel, edge to spine", units) { MinMm = 1, MaxMm = 500 });
        Bend = Add(new LengthField("bend", "Bend, at the tip", units) { MinMm = -50, MaxMm = 50, Hint = "Toward the blade's left is positive; 0 for straight." });
        SeenThere = Add(new TextField("seen", "Seen: rust, patina, twist, old repairs") { Lines = 2, MaxLength = 400 });
        if (stands is null)
            return;
        BehindEdge.Fill(Mm(stands.BehindEdgeMm));
        PrimaryHalf.Fill(stands.PrimaryHalfDeg is { } deg ? Angle.FromDegrees(deg) : null);
        Land.Fill(Mm(stands.LandMm));
        Chip.Fill(Mm(stands.ChipMm));
        Spine.Fill(Mm(stands.SpineMm));
        Height.Fill(Mm(stands.HeightMm));
        Bend.Fill(Mm(stands.BendMm));
        SeenThere.Typed = stands.Seen ?? "";
    }

    /// <summary>Behind the edge.</summary>
    public LengthField BehindEdge { get; }

    /// <summary>Primary half-angle.</summary>
    public AngleField PrimaryHalf { get; }

    /// <summary>Land.</summary>
    public LengthField Land { get; }

    /// <summary>Chip.</summary>
    public LengthField Chip { get; }

    /// <summary>Spine.</summary>
    public LengthField Spine { get; }

    /// <summary>Height.</summary>
    public LengthField Height { get; }

    /// <summary>Bend.</summary>
    public LengthField Bend { get; }

    /// <summary>What was seen.</summary>
    public TextField SeenThere { get; }

    internal SectionMeasured Fact(long visit, long? corrects, DateTime now) => new()
    {
        VisitId = visit,
        HappenedAt = now,
        EnteredAt = now,
        CorrectsId = corrects,
        BehindEdgeMm = BehindEdge.Value?.Millimetres,
        PrimaryHalfDeg = PrimaryHalf.Value?.Degrees,
        LandMm = Land.Value?.Millimetres,
        ChipMm = Chip.Value?.Millimetres,
        SpineMm = Spine.Value?.Millimetres,
        HeightMm = Height.Value?.Millimetres,
        BendMm = Bend.Value?.Millimetres,
        Seen = SeenThere.Value,
    };

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Fields.All(f => f.Typed.Length == 0))
            Refuse("nothing was measured; one length at least would be right");
        if (BehindEdge.Value is { } behind && Spine.Value is { } spine && behind > spine)
            BehindEdge.Refuse($"'{BehindEdge.Typed}' is thicker than the spine; less than {Spine.Typed} would be right");
        if (Chip.Value is { } chip && Height.Value is { } height && chip >= height)
            Chip.Refuse($"'{Chip.Typed}' is as deep as the blade is high; less than {Height.Typed} would be right");
    }

    private static Length? Mm(double? value) => value is { } v ? Length.FromMillimetres(v) : null;
}

/// <summary>The screen of <see cref="LengthsForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Form">The form.</param>
public sealed record LengthsScreen(BenchVisit Visit, LengthsForm Form) : BenchScreen(Visit, BenchStep.Read);

/// <summary>Lengths typed.</summary>
internal static class Lengths
{
    public static Task<IResult> ShowAsync(string tag, BenchVisitQuery visits, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            LengthsForm form = new(units, visit.SectionNow) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<SectionMeasured>(visit.Visit.Id, cancel)) };
            // What the mark of the primary says need not be typed.
            if (form.PrimaryHalf.Typed.Length == 0 && ShownReading.Of(visit, ReadingPurpose.Found) is { } reading && visit.Piece.Kind.Reference() == AngleReference.MidPlane
                && reading.Said.Sides.Select(s => s.PrimaryDeg).OfType<double>().ToList() is { Count: > 0 } primaries)
                form.PrimaryHalf.Fill(Angle.FromDegrees(Math.Round(Math.Max(0, primaries.Average()), 2)));
            return Of(visit, form);
        }, cancel);

    public static Task<IResult> SaveAsync(string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            LengthsForm form = new(units);
            if (!await form.ReadAsync(http))
                return Of(visit, form);
            Submitted<SectionMeasured> saved = await desk.AddAsync(form, form.Fact(visit.Visit.Id, visit.SectionNow?.Id, desk.Now()), BenchDoor.Address(visit, BenchStep.Read), cancel: cancel);
            return BenchDesk.Answer(saved, form, "Measured.", theirs => (new LengthsForm(units, theirs), theirs.Id)) ?? Of(visit, form);
        }, cancel);

    private static IResult Of(BenchVisit visit, LengthsForm form)
    {
        LengthsScreen screen = new(visit, form);
        return Page.Of<LengthsPage>(screen.Title, screen, Room.Bench, form.Status);
    }
}
