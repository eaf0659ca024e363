using Microsoft.AspNetCore.Http;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Paper.Targets;
using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Kit.Instruments;

/// <summary>One instrument with its calibrations.</summary>
/// <param name="Kept">The newest.</param>
/// <param name="Instrument">As read; null where its description cannot be.</param>
/// <param name="Target">Its sheet; null for none.</param>
/// <param name="History">All calibrations, the newest first.</param>
/// <param name="Spacer">Form.</param>
/// <param name="Step">Form.</param>
/// <param name="Zero">Form.</param>
/// <param name="Print">Form.</param>
public sealed record InstrumentModel(
    InstrumentKept Kept, Instrument? Instrument, TargetSheet? Target, IReadOnlyList<InstrumentKept> History, SpacerForm Spacer, StepForm Step, ZeroForm Zero, PrintForm Print)
{
    internal int Status => new WebForm[] { Spacer, Step, Zero, Print }.Max(f => f.Status);
}

/// <summary>Instruments: printed, placed, calibrated; the latest calibration counts.</summary>
internal static class InstrumentShelf
{
    /// <summary>0.15 mm: a mark or a step read to half a millimetre (chosen, not derived).</summary>
    private const double MarkUMm = 0.15;

    /// <summary>0.1 mm: a check line under a ruler with a loupe (chosen, not derived).</summary>
    private const double LineUMm = 0.1;

    public static async Task<IResult> ListAsync(KitQuery kit, CancellationToken cancel)
    {
        IReadOnlyList<InstrumentKept> all = await kit.CalibrationsAsync(cancel);
        return Page.Of<InstrumentsPage>("Instruments", (IReadOnlyList<InstrumentKept>)[.. all.GroupBy(i => i.Name, StringComparer.OrdinalIgnoreCase).Select(g => g.First())], Room.Kit);
    }

    public static IResult New(UnitsView units) => Of(new NewInstrumentForm(units));

    public static async Task<IResult> AddAsync(HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, BookClock clock, UnitsView units, CancellationToken cancel)
    {
        NewInstrumentForm form = new(units);
        if (!await form.ReadAsync(http))
            return Of(form);
        if ((await kit.CalibrationsAsync(cancel)).Any(i => i.Name.Equals(form.Name.Value, StringComparison.OrdinalIgnoreCase)))
            form.Name.Refuse($"'{form.Name.Typed}' is kept already; another name would be right, or calibrate that one again");
        TargetSheet? sheet = null;
        try
        {
            sheet = TargetLayout.For(KnownPaperSizes.Named(form.Paper.Value!), form.Distance.Value!.Value).Sheet;
        }
        catch (ArgumentException e)
        {
            form.Distance.Refuse($"'{form.Distance.Typed}' does not suit this paper; {Plain(e)}");
        }

        if (sheet is null || form.Wrong)
            return Of(form);
        MeasuredLength distance = Spaced(form.Spacer, form.SpacerU);
        Instrument made = Dated(InstrumentOnBench.AtDistance(null, distance.Value.Millimetres, distance.StandardUncertainty.Millimetres), clock, units);
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.CalibrateAsync(db, form.Name.Value, InstrumentOnBench.ToJson(made), TargetFormat.Text(sheet), "spacer", Seen.Nothing, cancel), i => KitAnswer.At("/kit/instruments/", i.Id), cancel),
            form, "Kept. Type the zero and the print check next.", _ => (new NewInstrumentForm(units), 0)) ?? Of(form);
    }

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, UnitsView units, CancellationToken cancel) =>
        await ModelAsync(id, kit, units, cancel) is { } model ? Of(model) : None();

    public static async Task<IResult> CalibrateAsync(long id, string how, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, BookClock clock, UnitsView units, CancellationToken cancel)
    {
        if (await ModelAsync(id, kit, units, cancel) is not { Instrument: { } now } model)
            return None();
        WebForm? form = how switch { "spacer" => model.Spacer, "step" => model.Step, "zero" => model.Zero, "print" => model.Print, _ => null };
        if (form is null)
            return Page.NotFound($"There is no calibration called {how}: spacer, step, zero or print would be right.");
        if (!await form.ReadAsync(http))
            return Of(model);
        Instrument made;
        string told;
        try
        {
            (made, told) = Made(how, now, model, units);
        }
        catch (ArgumentException e)
        {
            form.Refuse(Plain(e));
            return Of(model);
        }

        string? target = model.Target is { } sheet ? TargetFormat.Text(sheet with { PrintScale = made.PrintScale ?? sheet.PrintScale }) : model.Kept.TargetJson;
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.CalibrateAsync(db, model.Kept.Name, InstrumentOnBench.ToJson(Dated(made, clock, units)), target, how, KitAnswer.Seen(form), cancel), i => KitAnswer.At("/kit/instruments/", i.Id), cancel),
            form, told, theirs => (Again(how, units), theirs.Id)) ?? Of(model);
    }

    public static IResult TargetPdf(string? paper, string? distance, UnitsView units)
    {
        if (Length.Parse(distance ?? "100", units.Unit) is not Typed<Length>.Value { Of: var length })
            return Page.NotFound($"The distance '{distance}' is not a length; 100 would be right.");
        try
        {
            return KitAnswer.Pdf(TargetPrint.For(KnownPaperSizes.Named(paper ?? "a4"), length).Pdf, "target.pdf");
        }
        catch (ArgumentException e)
        {
            return Page.NotFound(Plain(e));
        }
    }

    public static IResult MatPdf(string? paper, int? sheets)
    {
        try
        {
            return KitAnswer.Pdf(MatPrint.For(KnownPaperSizes.Named(paper ?? "a4"), sheets ?? 1).Pdf, "mat.pdf");
        }
        catch (ArgumentException e)
        {
            return Page.NotFound(Plain(e));
        }
    }

    /// <summary>How an instrument was calibrated, in words.</summary>
    public static string How(string how) => how switch
    {
        "spacer" => "distance by spacer",
        "step" => "distance by step",
        "zero" => "zero by the bare beam",
        "print" => "print check",
        "roll" => "roll of the holder",
        _ => "typed",
    };

    private static (Instrument Made, string Told) Made(string how, Instrument now, InstrumentModel model, UnitsView units)
    {
        switch (how)
        {
            case "spacer":
                MeasuredLength spaced = Spaced(model.Spacer.Spacer, model.Spacer.SpacerU);
                return (now with { Distance = spaced }, $"Distance {units.Length(spaced.Value)}.");
            case "step":
                CalibratedLength stepped = DistanceCalibration.ByStep(Measured(model.Step.Before, MarkUMm), Measured(model.Step.After, MarkUMm), Measured(model.Step.Step, MarkUMm));
                return (now with { Distance = stepped.Value }, $"Distance {units.Length(stepped.Value.Value)} ± {units.Length(2 * stepped.Value.StandardUncertainty.Millimetres)} (k = 2). {string.Join(' ', stepped.Reasons.Select(r => r.Text))}");
            case "zero":
                CalibratedLength zero = DistanceCalibration.ZeroFromBareBeam(TypedMarks.Repeats(model.Zero.Marks.Value, out _), model.Zero.Resolution.Value!.Value);
                return (now with { Zero = zero.Value }, $"Zero {units.Travel(zero.Value.Value.Millimetres)} right of the sheet's. {string.Join(' ', zero.Reasons.Select(r => r.Text))}");
            default:
                var across = DistanceCalibration.PrintScale(Length.FromMillimetres(100), Measured(model.Print.Across, LineUMm));
                var down = DistanceCalibration.PrintScale(Length.FromMillimetres(100), Measured(model.Print.Down, LineUMm));
                return (now with { PrintScale = new PrintScale(across.Scale, down.Scale), PrintScaleU = Math.Max(across.Uncertainty, down.Uncertainty) },
                    $"Print scale {units.Number(across.Scale, 4)} across, {units.Number(down.Scale, 4)} down.");
        }
    }

    private static MeasuredLength Spaced(LengthField spacer, LengthField u) =>
        DistanceCalibration.BySpacer(MeasuredLength.FromMillimetres(spacer.Value!.Value.Millimetres, u.Value?.Millimetres ?? 0)).Value;

    private static MeasuredLength Measured(LengthField field, double uMm) => MeasuredLength.FromMillimetres(field.Value!.Value.Millimetres, uMm);

    private static Instrument Dated(Instrument instrument, BookClock clock, UnitsView units) => instrument with { Date = units.LocalDay(clock.Now()), IsDefault = false };

    private static WebForm Again(string how, UnitsView units) => how switch { "spacer" => new SpacerForm(units), "step" => new StepForm(units), "zero" => new ZeroForm(units), _ => new PrintForm(units) };

    private static async Task<InstrumentModel?> ModelAsync(long id, KitQuery kit, UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<InstrumentKept> all = await kit.CalibrationsAsync(cancel);
        if (all.FirstOrDefault(i => i.Id == id) is not { } asked)
            return null;
        List<InstrumentKept> history = [.. all.Where(i => i.Name.Equals(asked.Name, StringComparison.OrdinalIgnoreCase))];
        string version = KitAnswer.Version(history.Max(i => i.Id));
        return new(
            history[0], InstrumentOnBench.Of(history[0]) is Composed<Instrument>.Ready ready ? ready.Value : null,
            InstrumentOnBench.Target(history[0]) is Composed<TargetSheet>.Ready sheet ? sheet.Value : null, history,
            new SpacerForm(units) { VersionSeen = version }, new StepForm(units) { VersionSeen = version }, new ZeroForm(units) { VersionSeen = version }, new PrintForm(units) { VersionSeen = version });
    }

    private static string Plain(ArgumentException e) => e.Message.Split(Environment.NewLine)[0].Replace($" (Parameter '{e.ParamName}')", "", StringComparison.Ordinal);

    private static IResult None() => Page.NotFound("There is no such instrument in the kit; look for it under Instruments.");

    private static IResult Of(NewInstrumentForm form) => Page.Of<NewInstrumentPage>("An instrument", form, Room.Kit, form.Status);

    private static IResult Of(InstrumentModel model) => Page.Of<InstrumentPage>(model.Kept.Name, model, Room.Kit, model.Status);
}
