using Microsoft.AspNetCore.Http;
using Whetwright.Paper.Drawings;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Rigs;

/// <summary>The form of a rig with its drawing.</summary>
/// <param name="Form">The form.</param>
/// <param name="Id">The rig; null for a new one.</param>
/// <param name="Drawing">The side view; null for a dial.</param>
/// <param name="AsTyped">The drawing shows what was typed, and not usual sizes.</param>
public sealed record RigEditModel(RigForm Form, long? Id, Drawing? Drawing, bool AsTyped);

/// <summary>Describes a rig, or changes its description.</summary>
internal static class RigEdit
{
    public static IResult Kinds() => Page.Of<RigKindsPage>("A rig", room: Room.Kit);

    public static IResult New(string kind, UnitsView units, ViewPreferences view) =>
        Known(kind) ? Of(new RigForm(kind, units), null, [], units, view) : Page.NotFound($"There is no kind of rig called {kind}; choose one of those shown.");

    public static async Task<IResult> AddAsync(string kind, HttpContext http, BookWriter writer, KitDesk desk, UnitsView units, ViewPreferences view, CancellationToken cancel)
    {
        if (!Known(kind))
            return Page.NotFound($"There is no kind of rig called {kind}; choose one of those shown.");
        RigForm form = new(kind, units);
        if (!await form.ReadAsync(http) || form.Read([], tell: true) is null)
            return Of(form, null, [], units, view);
        RigTyped typed = new(form.Name.Value, form.Json(), form.Retired.Value);
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => desk.AddRigAsync(db, typed, cancel), r => KitAnswer.At("/kit/rigs/", r.Id), cancel), form, "Described.")
            ?? Of(form, null, [], units, view);
    }

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, UnitsView units, ViewPreferences view, CancellationToken cancel) =>
        await kit.RigAsync(id, cancel) is { } whole
            ? Of(new RigForm(RigShelf.KindOf(whole.Rig), units, whole.Rig), id, Wheels(whole), units, view)
            : RigShelf.None();

    public static async Task<IResult> SaveAsync(long id, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, ViewPreferences view, CancellationToken cancel)
    {
        if (await kit.RigAsync(id, cancel) is not { } whole)
            return RigShelf.None();
        string kind = RigShelf.KindOf(whole.Rig);
        IReadOnlyList<RigForm.Wheel> wheels = Wheels(whole);
        RigForm form = new(kind, units, whole.Rig);
        if (!await form.ReadAsync(http) || form.Read(wheels, tell: true) is null)
            return Of(form, id, wheels, units, view);
        RigTyped typed = new(form.Name.Value, form.Json(), form.Retired.Value);
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.EditRigAsync(db, id, form.SeenVersion, typed, cancel), r => KitAnswer.At("/kit/rigs/", r.Id), cancel),
            form, "Saved.", theirs => (new RigForm(kind, units, theirs), theirs.Version)) ?? Of(form, id, wheels, units, view);
    }

    internal static IReadOnlyList<RigForm.Wheel> Wheels(RigWhole whole) =>
        [.. whole.Rig.Wheels.Where(w => !w.Retired).OrderBy(w => w.Id).Select(w => (w.Name, Today: whole.Today(w.Id))).Where(w => w.Today is not null).Select(w => new RigForm.Wheel(w.Name, w.Today!.DiameterMm))];

    private static bool Known(string kind) => RigForm.Kinds.Any(k => k.Key == kind);

    private static IResult Of(RigForm form, long? id, IReadOnlyList<RigForm.Wheel> wheels, UnitsView units, ViewPreferences view)
    {
        Core.Fixtures.Rig? rig = form.Read(wheels, tell: false);
        RigEditModel model = new(form, id, RigDrawing.Of(form.Kind, rig, null, units, view), rig is not null);
        return Page.Of<RigEditPage>(id is null ? "A new rig" : form.Name.Typed, model, Room.Kit, form.Status);
    }
}
