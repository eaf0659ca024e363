using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Kit.Rigs;

/// <summary>Where the bar, the pivot or the lift stands now.</summary>
public sealed class StandForm : WebForm
{
    internal StandForm(RigWhole whole, UnitsView units)
    {
        string kind = RigShelf.KindOf(whole.Rig);
        List<WheelKept> wheels = [.. whole.Rig.Wheels.Where(w => !w.Retired).OrderBy(w => w.Id)];
        bool bar = kind == "wheel-and-bar";
        Wheel = Add(new ChoiceField("wheelId", "Set for the wheel", [.. wheels.Select(w => new Choice(w.Id.ToString(System.Globalization.CultureInfo.InvariantCulture), w.Name))]) { Required = bar });
        FarSide = Add(new LengthField("farSide", bar ? "Far side of the bar to that wheel (A)" : "Pivot over the blade's middle (A)", units)
        {
            MinMm = 0,
            MaxMm = 2000,
            Required = true,
            Hint = bar ? "By calliper, over bar and wheel, at their nearest." : "As it stands now.",
        });
        Wheel.Fill((whole.Now?.WheelId ?? (wheels.Count > 0 ? wheels[0].Id : null))?.ToString(System.Globalization.CultureInfo.InvariantCulture));
        VersionSeen = KitAnswer.Version(whole.Stands.Count > 0 ? whole.Stands.Max(s => s.Id) : null);
    }

    /// <summary>For which wheel.</summary>
    public ChoiceField Wheel { get; }

    /// <summary>As measured over bar and wheel.</summary>
    public LengthField FarSide { get; }
}

/// <summary>One rig.</summary>
/// <param name="Whole">What stands of it.</param>
/// <param name="Kind">Kind in files.</param>
/// <param name="Composed">As the bench takes it.</param>
/// <param name="Drawing">Side view; null for a dial.</param>
/// <param name="Stand">The form for where it stands; null for rigs that hold no setting.</param>
/// <param name="NowMm">What is measured as it stands now, mm.</param>
public sealed record RigModel(RigWhole Whole, string Kind, Composed<Rig> Composed, Drawing? Drawing, StandForm? Stand, double? NowMm)
{
    /// <summary>Why no setting can be made yet.</summary>
    public IReadOnlyList<string> Missing => Composed is Composed<Rig>.NotYet not ? not.Missing : [];

    /// <summary>What nobody measured.</summary>
    public IReadOnlyList<DefaultUsed> Defaults => Composed is Composed<Rig>.Ready ready ? ready.Value.Defaults : [];
}

/// <summary>The rigs, and one of them.</summary>
internal static class RigShelf
{
    public static async Task<IResult> ListAsync(KitQuery kit, CancellationToken cancel) => Page.Of<RigsPage>("Rigs", await kit.RigsAsync(cancel), Room.Kit);

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, UnitsView units, ViewPreferences view, CancellationToken cancel) =>
        await kit.RigAsync(id, cancel) is { } whole ? Of(whole, Stands(whole) ? new StandForm(whole, units) : null, units, view) : None();

    public static async Task<IResult> StandAsync(long id, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, ViewPreferences view, CancellationToken cancel)
    {
        if (await kit.RigAsync(id, cancel) is not { } whole || !Stands(whole))
            return None();
        StandForm form = new(whole, units);
        if (!await form.ReadAsync(http))
            return Of(whole, form, units, view);
        long? wheelId = long.TryParse(form.Wheel.Value, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out long w) ? w : null;
        double dialled = form.FarSide.Value!.Value.Millimetres;
        if (KindOf(whole.Rig) == "wheel-and-bar")
        {
            if (wheelId is not { } wheel || whole.Today(wheel) is not { } today)
            {
                form.Wheel.Refuse("has no diameter yet; a wheel that was measured would be right");
                return Of(whole, form, units, view);
            }

            dialled = BarSlide.CentreDistanceFromFarSideMm(dialled, BarRadius(whole), today.DiameterMm / 2);
        }

        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.StandAsync(db, id, wheelId, dialled, seen: KitAnswer.Seen(form), cancel: cancel), _ => KitAnswer.At("/kit/rigs/", id), cancel),
            form, "So it stands now.", theirs => (new StandForm(whole, units), theirs.Id)) ?? Of(whole, form, units, view);
    }

    /// <summary>Kind of a rig, as in files.</summary>
    public static string KindOf(RigKept rig) => (JsonNode.Parse(rig.RigJson) as JsonObject)?["kind"]?.GetValue<string>() ?? "dial";

    /// <summary>Kind in words.</summary>
    public static string Words(string kind) => RigForm.Kinds.FirstOrDefault(k => k.Key == kind)?.Label ?? kind;

    public static IResult None() => Page.NotFound("There is no such rig in the kit; look for it under Rigs.");

    /// <summary>The rig as the bench takes it.</summary>
    public static Composed<Rig> Composed(RigWhole whole, IReadOnlyDictionary<long, WheelWorn>? worn = null) =>
        RigOnBench.Compose(whole.Rig, whole.Diameters, [.. whole.Stands], whole.Corrections, worn: worn).Rig;

    private static bool Stands(RigWhole whole) => KindOf(whole.Rig) is "wheel-and-bar" or "guided-rod";

    private static double BarRadius(RigWhole whole) =>
        ((JsonNode.Parse(whole.Rig.RigJson) as JsonObject)?["barDiameterMm"]?.GetValue<double>() ?? WheelAndBarRig.UsualBarDiameterMm) / 2;

    private static IResult Of(RigWhole whole, StandForm? stand, UnitsView units, ViewPreferences view)
    {
        string kind = KindOf(whole.Rig);
        Composed<Rig> composed = Composed(whole);
        Rig? rig = composed is Composed<Rig>.Ready ready ? ready.Value : null;
        double? now = whole.Now?.DialledMm;
        if (kind == "wheel-and-bar" && whole.Now is { WheelId: { } wheelId } at)
            now = whole.Today(wheelId) is { } today ? BarSlide.FarSideToWheelMm(at.DialledMm, BarRadius(whole), today.DiameterMm / 2) : null;
        return Page.Of<RigPage>(whole.Rig.Name, new RigModel(whole, kind, composed, RigDrawing.Of(kind, rig, null, units, view), stand, now), Room.Kit, stand?.Status ?? StatusCodes.Status200OK);
    }
}
