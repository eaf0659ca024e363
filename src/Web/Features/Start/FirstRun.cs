using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Start;

/// <summary>What the first knife needs, and no more: a name, one rig with its few numbers, one house angle.</summary>
public sealed class FirstRunForm : WebForm
{
    internal FirstRunForm(string kind, UnitsView units)
    {
        Kind = kind;
        Name = Add(new TextField("shop", "Name of the shop") { Required = true, MaxLength = 80, AutoComplete = "organization", Hint = "On receipts, tags and every page." });
        if (kind == "wheel-and-bar")
        {
            Diameter = Add(new LengthField("diameter", "Diameter of the wheel, today", units) { Required = true, MinMm = 20, MaxMm = 600, Hint = "By calliper, twice, a quarter turn apart." });
            JawToPivot = Add(new LengthField("jawToPivot", "Jaw's front to the bar", units) { Required = true, MinMm = 0, MaxMm = 500, Hint = "Along the holder, from where the jaw ends to the middle of the bar." });
        }
        else if (kind == "guided-rod")
        {
            JawToPivot = Add(new LengthField("jawToPivot", "Jaw's front to under the rod's pivot", units) { Required = true, MinMm = 0, MaxMm = 1000 });
            HeightFrom = Add(new LengthField("heightFrom", "Lowest the pivot goes, over the blade's middle", units) { Required = true, MinMm = 0, MaxMm = 1000 });
            HeightTo = Add(new LengthField("heightTo", "Highest", units) { Required = true, MinMm = 1, MaxMm = 2000 });
        }

        Angle = Add(new AngleField("angle", "The shop's usual angle, per side", units) { Required = true, MinDeg = 3, MaxDeg = 45, Hint = "Kitchen knives: 15 is common practice. Change it any time in Kit." }).Fill(Core.Quantities.Angle.FromDegrees(15));
    }

    /// <summary>Kind of the rig.</summary>
    public string Kind { get; }

    /// <summary>Name of the shop.</summary>
    public TextField Name { get; }

    /// <summary>The wheel.</summary>
    public LengthField? Diameter { get; }

    /// <summary>Jaw to pivot.</summary>
    public LengthField? JawToPivot { get; }

    /// <summary>Lowest pivot.</summary>
    public LengthField? HeightFrom { get; }

    /// <summary>Highest pivot.</summary>
    public LengthField? HeightTo { get; }

    /// <summary>House angle.</summary>
    public AngleField Angle { get; }

    /// <summary>What stands in for the rest, in words.</summary>
    public IReadOnlyList<string> Defaults => Kind switch
    {
        "wheel-and-bar" => ["bar 12 mm thick, through the holder, in the blade's middle", "the jaw closes from both sides", "the edge stands 15 to 30 mm out of the jaw; it is clamped anywhere along 200 mm", "posts point at the wheel's axis"],
        "guided-rod" => ["the stone's face lies on the rod's line", "the edge stands 10 to 30 mm out of the jaw; it is clamped anywhere along 200 mm"],
        _ => ["a stack under the spine's lower corner"],
    };

    internal string RigJson()
    {
        JsonObject rig = new() { ["kind"] = Kind };
        if (Kind == "bench-stone")
            return rig.ToJsonString();
        double jaw = JawToPivot!.Value!.Value.Millimetres;
        rig["jawToPivotMm"] = jaw;
        rig["pivotXMm"] = new JsonArray(0, 200);
        if (Kind == "guided-rod")
        {
            rig["pivotHeightMm"] = new JsonArray(HeightFrom!.Value!.Value.Millimetres, HeightTo!.Value!.Value.Millimetres);
            rig["pivotDistanceMm"] = new JsonArray(jaw + 10, jaw + 30);
        }
        else
        {
            rig["pivotDistanceMm"] = new JsonArray(jaw + 15, jaw + 30);
        }

        return rig.ToJsonString();
    }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (HeightFrom?.Value is { } low && HeightTo?.Value is { } high && low >= high)
            HeightTo.Refuse($"'{HeightTo.Typed}' is not above {HeightFrom.Typed}; the larger of the two would be right");
    }
}

/// <summary>The first run.</summary>
internal static class FirstRun
{
    private static readonly string[] Kinds = ["wheel-and-bar", "guided-rod", "bench-stone"];

    public static IResult Show(string? rig, UnitsView units) => Of(new FirstRunForm(Kinds.Contains(rig, StringComparer.Ordinal) ? rig! : Kinds[0], units));

    public static async Task<IResult> SaveAsync(HttpContext http, string? rig, KitQuery kit, KitDesk desk, BookWriter writer, UnitsView units, CancellationToken cancel)
    {
        FirstRunForm form = new(Kinds.Contains(rig, StringComparer.Ordinal) ? rig! : Kinds[0], units);
        if (!await form.ReadAsync(http))
            return Of(form);
        if (!(await kit.BegunAsync(cancel)).IsEmpty)
        {
            // Sent twice, or another device was first: what is there stays.
            return Page.SeeOther("/", "The book is begun already.");
        }

        if (!Readable(form))
            return Of(form);
        Submitted<ShopCard> outcome = await writer.SubmitAsync(form.Once, db => SaveAsync(db, form, desk, cancel), _ => "/counter", cancel);
        switch (outcome)
        {
            case Submitted<ShopCard>.Done done:
                return Page.SeeOther(done.LedTo, "Ready for the first piece: whose is it?");
            case Submitted<ShopCard>.Refused refused:
                form.Refuse(refused.Problems);
                return Of(form);
            default:
                return Page.SeeOther("/", "The book is begun already.");
        }
    }

    private static bool Readable(FirstRunForm form)
    {
        JsonObject rig = (JsonObject)JsonNode.Parse(form.RigJson())!;
        if (form.Diameter?.Value is { } diameter)
            rig["wheels"] = new JsonArray(new JsonObject { ["name"] = "wheel", ["diameterMm"] = diameter.Millimetres });
        if (RigFormat.Read(rig.ToJsonString()) is FormatOutcome<Rig>.Refused refused)
        {
            foreach (FormatError error in refused.Errors)
                form.Refuse(error.ToString());
        }

        return !form.Wrong;
    }

    private static async Task<SaveOutcome<ShopCard>> SaveAsync(BookContext db, FirstRunForm form, KitDesk desk, CancellationToken cancel)
    {
        ShopCard? card = await db.Shop.FindAsync([1L], cancel);
        SaveOutcome<ShopCard> named = await db.EditAsync<ShopCard>(1, card!.Version, c =>
        {
            c.Name = form.Name.Value!;
            c.TimeZone = TimeZoneInfo.Local.Id;
        }, cancel);
        if (named is not SaveOutcome<ShopCard>.Saved)
            return named;
        string rigName = form.Kind switch { "wheel-and-bar" => "Wheel", "guided-rod" => "Rod", _ => "Stone" };
        SaveOutcome<RigKept> rig = await desk.AddRigAsync(db, new RigTyped(rigName, form.RigJson()), cancel);
        if (rig is SaveOutcome<RigKept>.Saved { Value: var kept } && form.Diameter?.Value is { } diameter)
        {
            DiameterTyped measured = new() { DiameterMm = diameter.Millimetres, UMm = Wheel.UsualDiameterUMm, Cause = DiameterCause.Measured };
            if (await desk.AddWheelAsync(db, new WheelTyped { RigId = kept.Id, Name = "wheel" }, measured, cancel) is SaveOutcome<WheelKept>.Refused no)
                return new SaveOutcome<ShopCard>.Refused(no.Problems);
        }

        RuleTyped rule = new() { Name = "house angle", AngleDeg = form.Angle.Value!.Value.Degrees, ToleranceDeg = card.ToleranceDeg, Order = 1 };
        return (await desk.AddRuleAsync(db, rule, cancel)) is SaveOutcome<HouseRule>.Refused wrong ? new SaveOutcome<ShopCard>.Refused(wrong.Problems)
            : rig is SaveOutcome<RigKept>.Refused refused ? new SaveOutcome<ShopCard>.Refused(refused.Problems) : named;
    }

    private static IResult Of(FirstRunForm form) => Page.Of<FirstRunPage>("First run", form, status: form.Status);
}
