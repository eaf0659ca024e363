using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Kit;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Gauges.Checks;

/// <summary>A known angle read by an instrument.</summary>
public sealed class InstrumentCheckForm : WebForm
{
    internal InstrumentCheckForm(UnitsView units, IReadOnlyList<string> instruments, IReadOnlyList<string> references, DateTime nowUtc)
    {
        Instrument = Add(new TextField("instrument", "Instrument") { Required = true, MaxLength = 60, Offered = instruments });
        Reference = Add(new TextField("reference", "What was read") { Required = true, MaxLength = 80, Offered = references, Hint = "A gauge block, a wedge, a knife kept for this." });
        True = Add(new AngleField("referenceDeg", "Its angle", units) { Required = true, MinDeg = 0.1, MaxDeg = 180, Hint = "Included." });
        TrueU = Add(new AngleField("referenceUDeg", "How well that is known (standard uncertainty)", units) { MinDeg = 0, MaxDeg = 10, Hint = "Left empty: 0.02°, a gauge block (chosen, not derived)." });
        Read = Add(new AngleField("readDeg", "Read", units) { Required = true, MinDeg = 0.1, MaxDeg = 180 });
        ReadU = Add(new AngleField("readUDeg", "Uncertainty of the reading", units) { MinDeg = 0.001, MaxDeg = 10, Hint = "Standard, as the reading said it. Left empty: 0.2° (chosen, not derived)." });
        At = Add(new MomentField("happenedAt", "When") { Required = true }).Fill(units.Local(nowUtc));
    }

    /// <summary>Instrument.</summary>
    public TextField Instrument { get; }

    /// <summary>Reference.</summary>
    public TextField Reference { get; }

    /// <summary>Its angle.</summary>
    public AngleField True { get; }

    /// <summary>Its uncertainty.</summary>
    public AngleField TrueU { get; }

    /// <summary>Read.</summary>
    public new AngleField Read { get; }

    /// <summary>Uncertainty.</summary>
    public AngleField ReadU { get; }

    /// <summary>When.</summary>
    public MomentField At { get; }
}

/// <summary>One instrument over time.</summary>
/// <param name="Name">Which.</param>
/// <param name="Checks">Oldest first.</param>
/// <param name="Plot">Read less known over the days; null with one check.</param>
public sealed record InstrumentOverTime(string Name, IReadOnlyList<InstrumentCheck> Checks, Drawing? Plot)
{
    /// <summary>Read less known, of the last.</summary>
    public double LastOffDeg => Checks[^1].ReadDeg - Checks[^1].ReferenceDeg;

    /// <summary>Standard uncertainty of that.</summary>
    public double LastUDeg => U(Checks[^1]);

    /// <summary>The last check stands clear of its own doubt (k = 2).</summary>
    public bool Off => Math.Abs(LastOffDeg) > 2 * LastUDeg;

    /// <summary>Both uncertainties together.</summary>
    public static double U(InstrumentCheck check) => Math.Sqrt((check.ReadUDeg * check.ReadUDeg) + (check.ReferenceUDeg * check.ReferenceUDeg));
}

/// <summary>The page.</summary>
/// <param name="Instruments">With checks.</param>
/// <param name="Form">A new one.</param>
public sealed record ChecksModel(IReadOnlyList<InstrumentOverTime> Instruments, InstrumentCheckForm Form);

/// <summary>Checks of instruments over time.</summary>
internal static class CheckShelf
{
    private const double UsualReferenceUDeg = 0.02, UsualReadUDeg = 0.2; // chosen, not derived; said on the form

    public static async Task<IResult> ShowAsync(GaugeQuery gauges, KitQuery kit, BookClock clock, UnitsView units, CancellationToken cancel) => await OfAsync(gauges, kit, clock, units, null, cancel);

    public static async Task<IResult> AddAsync(HttpContext http, GaugeQuery gauges, GaugeDesk desk, KitQuery kit, BookWriter writer, BookClock clock, UnitsView units, CancellationToken cancel)
    {
        InstrumentCheckForm form = new(units, [], [], clock.Now());
        if (!await form.ReadAsync(http))
            return await OfAsync(gauges, kit, clock, units, form, cancel);
        InstrumentCheckTyped typed = new()
        {
            Instrument = form.Instrument.Value, Reference = form.Reference.Value, ReferenceDeg = form.True.Value!.Value.Degrees, ReferenceUDeg = form.TrueU.Value?.Degrees ?? UsualReferenceUDeg,
            ReadDeg = form.Read.Value!.Value.Degrees, ReadUDeg = form.ReadU.Value?.Degrees ?? UsualReadUDeg, HappenedAt = units.Universal(form.At.Local!.Value),
        };
        if (typed.HappenedAt > clock.Now().AddMinutes(5))
            form.At.Refuse($"'{form.At.Typed}' is still to come; a time that has passed would be right");
        if (form.Wrong)
            return await OfAsync(gauges, kit, clock, units, form, cancel);
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => desk.CheckAsync(db, typed, cancel), _ => "/gauges/checks", cancel), form, "Kept.") ?? await OfAsync(gauges, kit, clock, units, form, cancel);
    }

    private static async Task<IResult> OfAsync(GaugeQuery gauges, KitQuery kit, BookClock clock, UnitsView units, InstrumentCheckForm? form, CancellationToken cancel)
    {
        IReadOnlyList<InstrumentCheck> checks = await gauges.ChecksAsync(cancel);
        string[] names = [.. (await kit.CalibrationsAsync(cancel)).Select(c => c.Name).Concat(checks.Select(c => c.Instrument)).Distinct(StringComparer.OrdinalIgnoreCase)];
        form ??= new(units, names, [.. checks.Select(c => c.Reference).Distinct(StringComparer.OrdinalIgnoreCase)], clock.Now());
        InstrumentOverTime[] all = [.. checks.GroupBy(c => c.Instrument, StringComparer.OrdinalIgnoreCase).Select(g => new InstrumentOverTime(g.Key, [.. g], Plot([.. g], units)))];
        return Page.Of<ChecksPage>("Instrument checks", new ChecksModel(all, form), Room.Gauges, form.Status);
    }

    private static Drawing? Plot(IReadOnlyList<InstrumentCheck> checks, UnitsView units) => checks.Count < 2 ? null
        : TimePicture.Draw("Read less known", [.. checks.Select(c => new TimePoint(c.HappenedAt, c.ReadDeg - c.ReferenceDeg, InstrumentOverTime.U(c), Math.Abs(c.ReadDeg - c.ReferenceDeg) > 2 * InstrumentOverTime.U(c)))],
            null, [], v => RigGaugeWords.Signed(v, units, 1), d => units.Date(units.LocalDay(d)), "● read   ■ off by more than its doubt; bars are ± 2u", zero: true);
}
