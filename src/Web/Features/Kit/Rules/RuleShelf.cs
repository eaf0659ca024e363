using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Rules;

/// <summary>For such pieces, this edge.</summary>
public sealed class RuleForm : WebForm
{
    internal RuleForm(UnitsView units, double toleranceDeg, HouseRule? rule = null, int nextOrder = 1)
    {
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 60, Hint = "As the choice shall read: kitchen knives." });
        Kind = Add(new ChoiceField("kind", "For", KitWords.Kinds) { List = true, Hint = "None chosen: every kind." });
        From = Add(new LengthField("fromLengthMm", "Edges from", units) { MinMm = 0, MaxMm = 2000 });
        To = Add(new LengthField("toLengthMm", "and shorter than", units) { MinMm = 1, MaxMm = 2000 });
        Angle = Add(new AngleField("angleDeg", "Angle", units) { Required = true, MinDeg = 1, MaxDeg = 89, Hint = "Per side; from the back for pieces with one." });
        Micro = Add(new AngleField("microDeg", "Micro-bevel", units) { MinDeg = 1, MaxDeg = 89 });
        Tolerance = Add(new AngleField("toleranceDeg", "Tolerance", units) { Required = true, MinDeg = 0.1, MaxDeg = 5 }).Fill(Core.Quantities.Angle.FromDegrees(rule?.ToleranceDeg ?? toleranceDeg));
        Order = Add(new NumberField("order", "Place in the order; the first that fits is taken") { Required = true, Min = 0, Max = 999, Whole = true }).Fill(rule?.Order ?? nextOrder, units);
        if (rule is null)
            return;
        Name.Fill(rule.Name);
        Kind.Fill(rule.Kind?.Key());
        From.Fill(KitAnswer.Mm(rule.FromLengthMm));
        To.Fill(KitAnswer.Mm(rule.ToLengthMm));
        Angle.Fill(Core.Quantities.Angle.FromDegrees(rule.AngleDeg));
        Micro.Fill(KitAnswer.Deg(rule.MicroDeg));
        VersionSeen = KitAnswer.Version(rule.Version);
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Kind.</summary>
    public ChoiceField Kind { get; }

    /// <summary>From this length.</summary>
    public LengthField From { get; }

    /// <summary>Shorter than.</summary>
    public LengthField To { get; }

    /// <summary>Angle.</summary>
    public AngleField Angle { get; }

    /// <summary>Micro-bevel.</summary>
    public AngleField Micro { get; }

    /// <summary>Tolerance.</summary>
    public AngleField Tolerance { get; }

    /// <summary>Order.</summary>
    public NumberField Order { get; }

    internal RuleTyped Typed() => new()
    {
        Name = Name.Value,
        Kind = Kind.Value is { } key ? PieceKinds.FromKey(key) : null,
        FromLengthMm = From.Value?.Millimetres,
        ToLengthMm = To.Value?.Millimetres,
        AngleDeg = Angle.Value!.Value.Degrees,
        MicroDeg = Micro.Value?.Degrees,
        ToleranceDeg = Tolerance.Value!.Value.Degrees,
        Order = (int)Order.Value!.Value,
    };
}

/// <summary>The form of one rule.</summary>
/// <param name="Form">The form.</param>
/// <param name="Id">Key; null for a new one.</param>
public sealed record RuleModel(RuleForm Form, long? Id);

/// <summary>House rules.</summary>
internal static class RuleShelf
{
    public static async Task<IResult> ListAsync(KitQuery kit, CancellationToken cancel) => Page.Of<RulesPage>("House rules", await kit.RulesAsync(cancel), Room.Kit);

    public static async Task<IResult> NewAsync(KitQuery kit, UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<HouseRule> rules = await kit.RulesAsync(cancel);
        return Of(new RuleForm(units, (await kit.CardAsync(cancel)).ToleranceDeg, null, rules.Count == 0 ? 1 : rules.Max(r => r.Order) + 1), null);
    }

    public static async Task<IResult> AddAsync(HttpContext http, BookWriter writer, KitDesk desk, UnitsView units, CancellationToken cancel)
    {
        RuleForm form = new(units, 0.5);
        if (!await form.ReadAsync(http))
            return Of(form, null);
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => desk.AddRuleAsync(db, form.Typed(), cancel), _ => "/kit/rules", cancel), form, $"{form.Name.Value} added.") ?? Of(form, null);
    }

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, UnitsView units, CancellationToken cancel) =>
        (await kit.RulesAsync(cancel)).FirstOrDefault(r => r.Id == id) is { } rule ? Of(new RuleForm(units, rule.ToleranceDeg, rule), id) : Page.NotFound("There is no such house rule; it may have been taken away.");

    public static async Task<IResult> SaveAsync(long id, HttpContext http, BookWriter writer, KitDesk desk, UnitsView units, CancellationToken cancel)
    {
        RuleForm form = new(units, 0.5);
        bool remove = (await http.Request.ReadFormAsync(cancel))["do"] == "remove";
        if (!await form.ReadAsync(http) && !remove)
            return Of(form, id);
        Submitted<HouseRule> outcome = await writer.SubmitAsync(
            form.Once, db => remove ? desk.RemoveRuleAsync(db, id, form.SeenVersion, cancel) : desk.EditRuleAsync(db, id, form.SeenVersion, form.Typed(), cancel), _ => "/kit/rules", cancel);
        return KitAnswer.To(outcome, form, remove ? "Taken away; what it decided before stays." : "Saved.", theirs => (new RuleForm(units, theirs.ToleranceDeg, theirs), theirs.Version)) ?? Of(form, id);
    }

    private static IResult Of(RuleForm form, long? id) => Page.Of<RulePage>(id is null ? "A house rule" : form.Name.Typed, new RuleModel(form, id), Room.Kit, form.Status);
}
