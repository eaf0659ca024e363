using System.Globalization;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Core.Visits;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>Lays a visit's plan out as a bench sheet; computes nothing of its own.</summary>
public static class VisitSheet
{
    /// <summary>The sheet.</summary>
    /// <param name="plan">A plan with at least one clamp.</param>
    /// <param name="reference">Short number of the visit.</param>
    /// <param name="owner">Whose piece it is, if it may be printed.</param>
    /// <param name="date">As it shall be printed.</param>
    /// <param name="invented">A line for samples; null for real work.</param>
    /// <param name="style">Display.</param>
    /// <exception cref="ArgumentException">The plan has no clamp to show.</exception>
    public static BenchSheet Of(VisitPlan plan, string reference, string? owner, string? date, string? invented, SheetStyle? style = null)
    {
        if (plan.Setting is not { Clamps.Count: > 0 } setting)
            throw new ArgumentException("A plan without a clamp has no sheet.", nameof(plan));
        return new()
        {
            Reference = reference,
            Title = plan.Blade.Name.Length > 0 ? plan.Blade.Name : "piece",
            Owner = owner,
            Date = date,
            Wish = plan.Wish.Text ?? (plan.Wish.Angle is null ? "keep the found angle" : null),
            InventedNote = invented,
            RigName = plan.Rig.Name.Length > 0 ? plan.Rig.Name : plan.Rig.Kind,
            Style = style ?? new(),
            Clamps = [.. setting.Clamps.Select(c => Clamp(plan, setting, c))],
            Reading = plan.Reading is { } reading ? Reading(reading) : null,
            Section = plan.Section is { } section ? CoreViews.Section(section) : null,
            SectionFacts = plan.Section is { } s ? Facts(s, plan.Ratios) : [],
            PenTests = AlikeSides.PenTests(plan.PenTests, plan.Rig is WheelAndBarRig),
            Stages = Stages(plan.Rig),
            Cautions = plan.Cautions,
            Omissions = [.. plan.Omissions, .. setting.Notes],
            Wear = WearWords.Of(setting, new(style ?? new())),
            Budget = Shares(setting, new(style ?? new())),
            Corrections = [.. CorrectionWords.Of(plan.Rig, new(style ?? new()))],
            DefaultsUsed = [.. setting.Defaults.Select(d => $"{d.Field} {d.Value}")],
        };
    }

    private static BenchClamp Clamp(VisitPlan plan, SettingPlan setting, PlannedClamp clamp) => new()
    {
        FromMm = clamp.FromMm,
        ToMm = clamp.ToMm,
        JawFromHeelMm = CoreViews.HeldBy(plan.Blade, clamp)?.FromHeelMm,
        ProtrusionMm = CoreViews.HeldBy(plan.Blade, clamp)?.ProtrusionMm,
        PlaneTiltDeg = CoreViews.HeldBy(plan.Blade, clamp)?.PlaneTiltDeg,
        ShimMm = setting.ShimMm,
        WorstDeg = clamp.WorstDeg,
        BoundDeg = clamp.BoundDeg,
        Clears = clamp.Clears?.Clears,
        ClearsText = clamp.Clears switch
        {
            null when clamp.Pivot is { } pivot && clamp.Jaw is not null && CoreViews.HeldBy(plan.Blade, clamp) is null => FormattableString.Invariant(
                $"jaw not described: pivot {pivot.X:0.0} mm from the heel, {-pivot.Y:0.0} mm behind the edge; clearance not known"),
            null => "not known whether jaw and spine clear: they are not described",
            { Clears: true } => null,
            { } verdict => FormattableString.Invariant($"the {verdict.What} does not clear; smallest angle {verdict.SmallestDeg:0.0}°"),
        },
        EdgeAngles = CoreViews.EdgeAngles(plan.Blade, clamp, plan.Wish.Tolerance),
        Settings = AlikeSides.OnceOnly([.. clamp.Settings.Select(s => Dial(plan, clamp, s))]),
        UDeg = setting.UDeg,
        MeasureNext = setting.MeasureNext is [var best, ..] ? FormattableString.Invariant($"{best.What}: then ±{best.UAfterDeg:0.00}° (k = 1)") : null,
    };

    /// <summary>Shares of the least sure setting that one decimal shows, the largest first.</summary>
    private static IReadOnlyList<string> Shares(SettingPlan setting, Figures figures) =>
        [.. setting.Budget.Where(b => 2 * b.Uncertainty >= 0.05).OrderByDescending(b => b.Uncertainty).Select(b => $"{b.Source} ± {figures.Degrees(2 * b.Uncertainty)}")];

    /// <summary>What to dial for one setting.</summary>
    private static BenchSetting Dial(VisitPlan plan, PlannedClamp clamp, DialledSetting setting)
    {
        BenchSetting common = new()
        {
            Name = plan.Rig.Kind,
            DialName = "mark",
            BladeSide = setting.Side,
            AngleDeg = setting.Wanted.Degrees,
            Rig = CoreViews.Rig(plan.Rig, plan.Blade, clamp, setting),
            FromTheBack = plan.Blade.Reference == Core.Blades.AngleReference.Back,
            TouchOffMm = clamp.TouchOff?.DistanceMm,
            TouchOffText = clamp.TouchOff is { } touch ? FormattableString.Invariant($"{touch.What}, {touch.AtMm:0} mm from the heel") : null,
        };
        return setting switch
        {
            WheelSetting w => common with
            {
                Name = w.Wheel.Name,
                DialName = "far side of bar to wheel",
                DialMm = w.BarFarSideToWheelMm,
                TravelMm = w.BarTravelMm,
                TravelTurns = w.Turns,
                Also = [new("bar centre to axis", FormattableString.Invariant($"{w.BarCentreToAxisMm:0.00} mm"))],
                DiameterMm = w.Wheel.Diameter.Value.Millimetres,
                DiameterUMm = w.Wheel.DiameterUTodayMm,
                DiameterEntry = "as given in the rig file",
                DiameterWorn = WearWords.MeasureAgain(w.Wheel) ? "worn since: measure it again" : null,
            },
            RodSetting r => common with
            {
                Name = "rod",
                DialName = "rod pivot height",
                DialMm = r.PivotHeightMm,
                TravelMm = r.ChangeMm,
            },
            LiftSetting l => common with
            {
                Name = "stone",
                DialName = "lift",
                DialMm = l.LiftMm,
            },
            MarkSetting m => common with { Name = plan.Rig.Kind == "slack-belt" ? "belt" : "guide", DialName = "mark", DialDeg = m.Marked.Degrees },
            _ => common,
        };
    }

    private static BenchReading Reading(CombinedReading reading)
    {
        SideReading? left = reading.Sides.FirstOrDefault(s => s.Blade == Side.Left), right = reading.Sides.FirstOrDefault(s => s.Blade == Side.Right);
        return new()
        {
            IncludedDeg = reading.Included?.Value.Degrees,
            IncludedUDeg = reading.Included?.StandardUncertainty.Degrees,
            LeftDeg = left?.Edge?.Value.Degrees,
            LeftUDeg = left?.Edge?.StandardUncertainty.Degrees,
            RightDeg = right?.Edge?.Value.Degrees,
            RightUDeg = right?.Edge?.StandardUncertainty.Degrees,
            CannotKnow = [.. reading.Reasons.Select(r => r.Text)],
            MeasureNext = reading.MeasureNext is [var best, ..] ? best.What : null,
            Marks = Marks(reading),
        };
    }

    private static ReadingView? Marks(CombinedReading reading)
    {
        ReadMark[] placed = [.. reading.Marks.Where(m => m.Mount == 0 && m.AtMm is not null && m.AsRead.Value.Degrees > 0)];
        if (placed.Length == 0)
            return null;
        ReadMark first = placed[0];
        double distance = Math.Abs(first.AtMm!.Value.X) / Math.Tan(2 * first.AsRead.Value.Radians);
        return !double.IsFinite(distance) || distance <= 0 ? null : new()
        {
            DistanceMm = distance,
            Marks = [.. placed.Select(m => new MarkView(m.Target, Word(m.Role), Math.Abs(m.AtMm!.Value.X), m.AsRead.Value.Degrees))],
        };
    }

    private static string Word(MarkRole role) => role switch { MarkRole.Edge => "edge", MarkRole.Primary => "primary", _ => "micro" };

    private static List<BenchFact> Facts(SectionResult section, EdgeRatios? ratios)
    {
        List<BenchFact> facts =
        [
            new("steel off", FormattableString.Invariant($"{section.RemovedMm3:0.#} mm³ ({section.RemovedMg / 1000:0.00} g)")),
            new("height lost", FormattableString.Invariant($"{section.HeightLostMm:0.000} mm")),
            new("facet after, left / right", FormattableString.Invariant($"{section.Left.FacetWidthMm:0.00} / {section.Right.FacetWidthMm:0.00} mm")),
            new("visits until thinning", section.VisitsUntilThinning?.ToString(CultureInfo.InvariantCulture) ?? "never"),
        ];
        if (ratios is not null)
            facts.Add(new("strength / push, new to old", FormattableString.Invariant($"{ratios.SectionModulus:0.00} / {ratios.Push:0.00}")));
        if (ratios?.Life is { } life)
            facts.Add(new("cuts as long, by the card-cut fit", FormattableString.Invariant($"{life:0.00}")));
        return facts;
    }

    private static IReadOnlyList<BenchStage> Stages(Rig rig) => rig is WheelAndBarRig wheels
        ? [.. wheels.Wheels.Select((w, i) => new BenchStage(w.Name, Note: i == 0
            ? "to a burr along the whole edge, then light alternating passes"
            : "light alternating passes; leather edge-trailing"))]
        : [];
}
