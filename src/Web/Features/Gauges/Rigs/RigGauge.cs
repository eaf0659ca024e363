using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Kit;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges.Rigs;

/// <summary>A correction to take out: a person presses, the book keeps it.</summary>
public sealed class CorrectionForm : WebForm
{
    internal CorrectionForm(UnitsView units)
    {
        Bias = Add(new NumberField("biasDeg", "Take out") { Unit = "°", Required = true, Min = -20, Max = 20, Hint = "Got less set: + where it grinds steeper than set. 0 takes a correction away." });
        U = Add(new NumberField("biasUDeg", "How well it is known (standard uncertainty)") { Unit = "°", Required = true, Min = 0, Max = 20 });
        Pieces = Add(new NumberField("pieces", "Pieces") { Whole = true, Min = 0, Max = 100000 });
        Why = Add(new TextField("why", "Why") { MaxLength = 400, Hint = "For the log; may be empty." });
        Units = units;
    }

    private UnitsView Units { get; }

    /// <summary>Bias.</summary>
    public NumberField Bias { get; }

    /// <summary>Its uncertainty.</summary>
    public NumberField U { get; }

    /// <summary>Pieces it was learnt from, as shown.</summary>
    public NumberField Pieces { get; }

    /// <summary>Why.</summary>
    public TextField Why { get; }

    internal CorrectionForm From(LearntWheel learnt)
    {
        Bias.Fill(Math.Round(learnt.ProposedCorrectionDeg ?? learnt.BiasDeg, 2), Units);
        U.Fill(Math.Round(learnt.UDeg, 3), Units);
        Pieces.Fill(learnt.Pieces, Units);
        return this;
    }
}

/// <summary>One rig and wheel: charts, what was learnt, corrections.</summary>
/// <param name="Name">In words.</param>
/// <param name="RigId">Rig.</param>
/// <param name="WheelId">Wheel; null for a rig without.</param>
/// <param name="Wheel">The wheel's name, else the rig's.</param>
/// <param name="Judged">Its log; null where nothing is checked yet.</param>
/// <param name="InForce">The correction that counts; null for none.</param>
/// <param name="Applied">Every correction applied to it, the newest first.</param>
/// <param name="Form">The form.</param>
/// <param name="Individuals">Chart; null with too few pieces.</param>
/// <param name="Ranges">Chart.</param>
/// <param name="Sum">Chart.</param>
public sealed record RigGaugeModel(
    string Name, long RigId, long? WheelId, string Wheel, WheelJudged? Judged, CorrectionApplied? InForce, IReadOnlyList<CorrectionApplied> Applied, CorrectionForm Form, Drawing? Individuals, Drawing? Ranges, Drawing? Sum)
{
    /// <summary>Its address.</summary>
    public string Here => FormattableString.Invariant($"/gauges/rigs/{RigId}/{WheelId ?? 0}");
}

/// <summary>The page of one rig and wheel.</summary>
internal static class RigGauge
{
    public static async Task<IResult> ShowAsync(long rigId, long wheelId, GaugeBook book, UnitsView units, CancellationToken cancel) =>
        await ModelAsync(rigId, wheelId, book, units, null, cancel) is { } model ? Of(model) : None();

    public static async Task<IResult> ApplyAsync(long rigId, long wheelId, HttpContext http, GaugeBook book, GaugeDesk desk, BookWriter writer, UnitsView units, CancellationToken cancel)
    {
        CorrectionForm form = new(units);
        bool right = await form.ReadAsync(http);
        if (await ModelAsync(rigId, wheelId, book, units, form, cancel) is not { } model)
            return None();
        if (!right)
            return Of(model);
        CorrectionTyped typed = new()
        {
            RigId = rigId, WheelId = model.WheelId, BiasDeg = form.Bias.Value!.Value, BiasUDeg = form.U.Value!.Value, Pieces = (int)(form.Pieces.Value ?? 0),
            Method = form.Pieces.Value > 0 ? BiasLearning.Method : null, Why = form.Why.Value,
        };
        string told = typed.BiasDeg == 0 ? "Nothing is taken out any more." : $"Taken out: {RigGaugeWords.Signed(typed.BiasDeg, units)}. Settings dialled before say their change.";
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.ApplyAsync(db, typed, KitAnswer.Seen(form), cancel), _ => model.Here, cancel), form, told,
            theirs => (Theirs(theirs, units), theirs.Id)) ?? Of(model);
    }

    private static CorrectionForm Theirs(CorrectionApplied theirs, UnitsView units)
    {
        CorrectionForm form = new(units);
        form.Bias.Fill(theirs.BiasDeg, units);
        form.U.Fill(theirs.BiasUDeg, units);
        form.Pieces.Fill(theirs.Pieces, units);
        form.Why.Fill(theirs.Why);
        return form;
    }

    private static async Task<RigGaugeModel?> ModelAsync(long rigId, long wheelId, GaugeBook book, UnitsView units, CorrectionForm? form, CancellationToken cancel)
    {
        GaugeLog log = await book.LogAsync(rigId, cancel);
        long? wheel = wheelId == 0 ? null : wheelId;
        if (log.Rig(rigId) is not { } rig || (wheel is { } id && rig.Rig.Wheels.All(w => w.Id != id)))
            return null;
        WheelJudged? judged = log.Judged.FirstOrDefault(j => j.WheelId == wheel);
        CorrectionApplied[] applied = [.. rig.Corrections.Where(c => c.WheelId == wheel).Reverse()];
        if (form is null)
        {
            form = new(units);
            if (judged is not null)
                form.From(judged.Learnt);
            form.VersionSeen = KitAnswer.Version(applied.Length > 0 ? applied.Max(c => c.Id) : null);
        }

        CorrectionApplied? inForce = judged is not null ? GaugesHall.InForce(log, judged) : RigOnBench.InForce(rig.Corrections, rigId, wheel) is { BiasDeg: not 0 } stands ? stands : null;
        (Drawing? individuals, Drawing? ranges, Drawing? sum) = Charts(judged, units);
        return new(log.Name(rigId, wheel), rigId, wheel, log.WheelName(wheel) ?? rig.Rig.Name, judged, inForce, applied, form, individuals, ranges, sum);
    }

    private static (Drawing?, Drawing?, Drawing?) Charts(WheelJudged? judged, UnitsView units)
    {
        if (judged?.Chart is not { } chart)
            return (null, null, null);
        IReadOnlyList<LoggedPiece> charted = judged.Charted;
        string first = units.Date(units.LocalDay(charted[0].Work.At)), last = units.Date(units.LocalDay(charted[^1].Work.At));
        ChartStep[] steps = [.. judged.Steps.Select((s, i) => new ChartStep(charted.ToList().FindIndex(p => p.Entry.When >= s.When), Letter(i))).Where(s => s.At > 0)];
        return (ControlPicture.Individuals(chart, judged.InLongRuns, judged.ToleranceDeg, first, last, steps, units.Culture), ControlPicture.Ranges(chart, first, last, units.Culture), ControlPicture.Sum(judged.Sums, first, last, steps, units.Culture));
    }

    public static string Letter(int i) => ((char)('A' + (i % 26))).ToString(CultureInfo.InvariantCulture);

    private static IResult None() => Page.NotFound("There is no such rig or wheel in the kit; the list stands under Gauges.");

    private static IResult Of(RigGaugeModel model) => Page.Of<RigGaugePage>(model.Name, model, Room.Gauges, model.Form.Status);
}
