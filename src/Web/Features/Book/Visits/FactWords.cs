using System.Text.Json.Nodes;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Book.Visits;

/// <summary>Facts in words, the same for history and for corrections.</summary>
internal static class FactWords
{
    /// <summary>What kind of fact.</summary>
    public static string Kind(VisitFact fact) => fact switch
    {
        Mount => "Blade in the beam",
        Reading { Purpose: ReadingPurpose.Found } => "Edge found",
        Reading => "Edge checked",
        OutlineTaken => "Outline",
        SectionMeasured => "Section measured",
        SteelNoted => "Steel noted",
        AimChosen => "Edge chosen",
        SettingMade => "Set",
        TouchOff => "Touch-off",
        Passes => "Passes",
        BenchEvent e => Event(e.Kind),
        StepMark m => $"{m.Step} {(m.State == StepState.Done ? "done" : m.State == StepState.Skipped ? "skipped" : "opened again")}",
        CutTest => "Cut test",
        ReadyNotice => "Owner told",
        VisitNote => "Note",
        Charge => "Charged",
        HandBack => "Handed back",
        _ => fact.GetType().Name,
    };

    /// <summary>What it says.</summary>
    public static string Says(VisitFact fact, UnitsView units) => fact switch
    {
        Mount m => $"{(m.Tip is null ? "tip not noted" : "tip " + m.Tip)}, {(m.MarksJson is null ? "photo" : "marks typed")}",
        Reading r => Angles(r, units) + $"; {r.Method}/{r.MethodVersion}",
        OutlineTaken o => Join(Traced("length", o.LengthMm, OutlineDoubt.LengthUMm(o), units), Traced("height", o.HeightMm, OutlineDoubt.HeightUMm(o), units), Named("deepest chip", o.ChipMm, units), o.ResultJson is null ? "typed" : "traced from a photo"),
        SectionMeasured s => Join(
            Named("behind the edge", s.BehindEdgeMm, units), s.PrimaryHalfDeg is { } p ? $"primary half {units.Angle(p)}" : null, Named("land", s.LandMm, units),
            Named("chip", s.ChipMm, units), Named("spine", s.SpineMm, units), Named("height", s.HeightMm, units), Named("bend", s.BendMm, units), s.Seen),
        SteelNoted s => Steel(s, units) + ", from: " + s.Source,
        AimChosen a => Join($"left {units.Angle(a.LeftDeg)}, right {units.Angle(a.RightDeg)}", $"± {units.Angle(a.ToleranceDeg)}", a.MicroDeg is { } m ? $"micro-bevel {units.Angle(m)}" : null, Source(a.Source)),
        SettingMade s => Join(s.JawFromHeelMm is { } j ? $"jaw {units.Length(j, 1)} from the heel" : null, s.ProtrusionMm is { } out1 ? $"{units.Length(out1, 1)} out" : null, Dials(s, units), Corrected(s, units)),
        TouchOff t => $"expected {units.Length(t.ExpectedMm)}, measured {units.Length(t.MeasuredMm)}, {(t.Accepted ? "accepted" : "refused: clamp again")}",
        Passes p => $"stage {units.Number(p.Stage)}, {p.Side}: {BookWords.Count(p.Count, "pass", "passes")}",
        BenchEvent e => Join(e.Stage is { } s ? $"stage {units.Number(s)}" : null, e.AtPass is { } n ? $"after pass {units.Number(n)}" : null, e.Note),
        StepMark m => m.Why ?? "",
        CutTest c => Join(c.Medium, Spot("heel", c.Heel), Spot("middle", c.Middle), Spot("tip", c.Tip)),
        ReadyNotice n => "by " + n.How,
        VisitNote n => n.Text,
        Charge c => $"{c.Text}, {units.Amount(c.AmountMinor)} (tax {units.Number(c.TaxMilliPercent / 1000.0, c.TaxMilliPercent % 1000 == 0 ? 0 : 1)} % in it)",
        HandBack h => Join(h.To is null ? "to the owner" : "to " + h.To, h.EdgeNote is null ? null : "with an edge note"),
        _ => "",
    };

    private static string? Traced(string name, double? mm, double? uMm, UnitsView units) =>
        mm is { } value ? $"{name} {units.Length(value, 1)}" + (uMm is { } u ? $" ± {units.Length(2 * u, 1)} (k = 2)" : "") : null;

    /// <summary>"61 HRC, chromium carbide 6 %": what is noted, and nothing of what is not in it.</summary>
    public static string Steel(SteelNoted s, UnitsView units) => Join(
        $"{Few(s.HardnessHrc, units)} HRC", Volume("cementite", s.CementitePercent, units), Volume("chromium carbide", s.ChromiumCarbidePercent, units),
        Volume("chromium carbide with vanadium", s.ChromiumVanadiumCarbidePercent, units), Volume("vanadium or niobium carbide", s.VanadiumCarbidePercent, units),
        Volume("tungsten or molybdenum carbide", s.TungstenCarbidePercent, units), Volume("vanadium nitride", s.VanadiumNitridePercent, units), Volume("chromium nitride", s.ChromiumNitridePercent, units));

    /// <summary>Angles of a reading with what is known of their doubt, k = 2.</summary>
    public static string Angles(Reading r, UnitsView units)
    {
        if (r.Outcome == "refused")
            return "no angle could be read";
        return r.LeftDeg is null && r.RightDeg is null
            ? "included " + With(r.IncludedDeg, r.IncludedUDeg, units)
            : Join(r.LeftDeg is null ? null : "left " + With(r.LeftDeg, r.LeftUDeg, units), r.RightDeg is null ? null : "right " + With(r.RightDeg, r.RightUDeg, units),
                r.IncludedDeg is null ? null : "included " + With(r.IncludedDeg, r.IncludedUDeg, units));
    }

    /// <summary>"15.2° ± 0.4°", k = 2.</summary>
    public static string With(double? deg, double? uDeg, UnitsView units) =>
        uDeg is { } u && deg is not null ? $"{units.Angle(deg, 1)} ± {units.Angle(2 * u, 1)}" : units.Angle(deg, 1);

    /// <summary>A moment that may be years ago: with its year.</summary>
    public static string When(DateTime utc, UnitsView units) => $"{units.Date(units.LocalDay(utc))}, {units.Clock(utc)}";

    private static string Source(TargetSource source) => source switch
    {
        TargetSource.Found => "as found",
        TargetSource.LastTime => "as last time",
        TargetSource.HouseRule => "house rule",
        TargetSource.Thinner => "thinner",
        TargetSource.Stronger => "stronger",
        _ => "own choice",
    };

    private static string Event(BenchEventKind kind) => kind switch
    {
        BenchEventKind.PenTest => "Pen test",
        BenchEventKind.BurrFelt => "Burr felt",
        BenchEventKind.BurrStays => "Burr stays",
        BenchEventKind.BurrOff => "Burr off",
        BenchEventKind.Cooled => "Cooled",
        BenchEventKind.Slipped => "Slipped in the clamp",
        BenchEventKind.Stropped => "Stropped",
        BenchEventKind.Cleaned => "Cleaned and oiled",
        _ => "Clamped",
    };

    /// <summary>Corrections that it was set with, as stored.</summary>
    private static string? Corrected(SettingMade setting, UnitsView units)
    {
        if (JsonNode.Parse(setting.InputsJson)?["rig"] is not JsonObject rig)
            return null;
        string[] all =
        [
            .. (rig["learntDeg"] is JsonValue whole ? [$"correction {Signed(whole.GetValue<double>(), units)} taken out"] : Array.Empty<string>()),
            .. (rig["wheels"] as JsonArray ?? []).OfType<JsonObject>().Where(w => w["learntDeg"] is JsonValue).Select(w => $"{(string?)w["name"]}: correction {Signed(w["learntDeg"]!.GetValue<double>(), units)} taken out"),
        ];
        return all.Length == 0 ? null : string.Join("; ", all);
    }

    private static string Signed(double deg, UnitsView units) => (deg > 0 ? "+" : "") + units.Angle(deg);

    /// <summary>The first lengths dialled, as stored.</summary>
    private static string? Dials(SettingMade setting, UnitsView units)
    {
        if (JsonNode.Parse(setting.ResultJson)?["clamps"] is not JsonArray clamps)
            return null;
        string[] dialled =
        [
            .. clamps.OfType<JsonObject>().SelectMany(c => (c["settings"] as JsonArray ?? []).OfType<JsonObject>()).Take(4)
                .Select(s => Length(s, "barCentreToAxisMm") is { } bar ? $"{(string?)s["wheel"]} {(string?)s["side"]}: bar {units.Length(bar)}"
                    : Length(s, "pivotHeightMm") is { } rod ? $"pivot {units.Length(rod)}"
                    : Length(s, "liftMm") is { } lift ? $"lift {units.Length(lift)}" : "")
                .Where(s => s.Length > 0),
        ];
        return dialled.Length == 0 ? null : string.Join("; ", dialled);
    }

    private static double? Length(JsonObject from, string key) => from[key] is JsonValue v && v.TryGetValue(out double mm) ? mm : null;

    private static string? Volume(string name, double percent, UnitsView units) => percent > 0 ? $"{name} {Few(percent, units)} %" : null;

    /// <summary>With one decimal where it has one.</summary>
    private static string Few(double value, UnitsView units) => units.Number(value, Math.Abs(value - Math.Round(value)) < 0.05 ? 0 : 1);

    private static string? Named(string name, double? mm, UnitsView units) => mm is { } m ? $"{name} {units.Length(m)}" : null;

    private static string? Spot(string where, string? how) => how is null ? null : $"{where} {how}";

    private static string Join(params string?[] parts) => string.Join(", ", parts.Where(p => !string.IsNullOrWhiteSpace(p)));
}
