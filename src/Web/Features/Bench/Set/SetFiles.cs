using System.Text;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Paper.Sheets;
using Whetwright.Records;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>What a setting was computed from, for the command line; the bench sheet to print.</summary>
internal static class SetFiles
{
    /// <summary>blade.json or rig.json: of what is dialled, or of the proposal in the address.</summary>
    public static Task<IResult> InputAsync(string tag, string file, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            string? json = null;
            if (at.Work.Setting is { } fact && !http.Request.Query.ContainsKey("anew"))
            {
                StoredSetting stored = StoredSetting.Of(fact);
                json = file == "blade" ? stored.BladeJson : stored.RigJson;
            }
            else if (file == "blade")
            {
                json = (at.Blade as Composed<Blade>.Ready)?.Json;
            }
            else
            {
                json = ((await SetStep.ProposeAsync(at, http, desk, units, preferences, cancel)).Rig?.Rig as Composed<Rig>.Ready)?.Json;
            }

            return json is null
                ? Page.NotFound($"There is no {file}.json yet: something it needs is not measured. The step Set says what.")
                : Results.File(Encoding.UTF8.GetBytes(json), "application/json", file + ".json");
        }, cancel);

    /// <summary>The bench sheet.</summary>
    public static Task<IResult> SheetAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, ShopView shop, BookClock clock, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            SheetStyle style = SettingSheet.Style(units, preferences);
            string date = units.Date(units.LocalDay(clock.Now()));
            string? invented = shop.Invented ? "Invented sample: no such piece." : null;
            BenchSheet? sheet;
            if (at.Work.Setting is not null && !http.Request.Query.ContainsKey("anew") && Dialled.Of(at, style) is { } dialled)
                sheet = SettingSheet.Of(at, dialled.Shown, dialled.Stored.Blade, dialled.Stored.Rig, style, dialled.Changes, date, invented);
            else
                sheet = (await SetStep.ProposeAsync(at, http, desk, units, preferences, cancel)).Setting is { } setting ? SettingSheet.Of(at, setting.Plan, setting.Blade, setting.Rig, style, [], date, invented) : null;
            return sheet is null
                ? Page.NotFound("There is nothing to print yet: the step Set says what is missing.")
                : Results.File(BenchSheetPdf.Write(sheet), "application/pdf", $"bench-{at.Visit.Tag}.pdf");
        }, cancel);
}
