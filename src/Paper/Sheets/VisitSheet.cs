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
            Section = plan.Section is { } section ? Section(section) : null,
            SectionFacts = plan.Section is { } s ? Facts(s, plan.Ratios) : [],
            PenTests = AlikeSides.PenTests(plan.PenTests, plan.Rig is WheelAndBarRig),
            Stages = Stages(plan.Rig),
            Cautions = plan.Cautions,
            Omissions = [.. plan.Omissions, .. setting.Notes],
            DefaultsUsed = [.. setting.Defaults.Select(d => $"{d.Field} {d.Value}")],
        };
    }

    private static BenchClamp Clamp(VisitPlan plan, SettingPlan setting, PlannedClamp clamp) => new()
    {
        FromMm = clamp.FromMm,
        ToMm = clamp.ToMm,
        JawFromHeelMm = HeldBy(plan, clamp)?.FromHeelMm,
        ProtrusionMm = HeldBy(plan, clamp)?.ProtrusionMm,
        PlaneTiltDeg = HeldBy(plan, clamp)?.PlaneTiltDeg,
        ShimMm = setting.ShimMm,
        WorstDeg = clamp.WorstDeg,
        BoundDeg = clamp.BoundDeg,
        Clears = clamp.Clears?.Clears,
        ClearsText = clamp.Clears switch
        {
            null when clamp.Pivot is { } pivot && clamp.Jaw is not null && HeldBy(plan, clamp) is null => FormattableString.Invariant(
                $"jaw not described: pivot {pivot.X:0.0} mm from the heel, {-pivot.Y:0.0} mm behind the edge; clearance not known"),
            null => "not known whether jaw and spine clear: they are not described",
            { Clears: true } => null,
            { } verdict => FormattableString.Invariant($"the {verdict.What} does not clear; smallest angle {verdict.SmallestDeg:0.0}°"),
        },
        EdgeAngles = EdgeAngles(plan, clamp),
        Settings = AlikeSides.OnceOnly([.. clamp.Settings.Select(s => Dial(plan, clamp, s))]),
        UDeg = setting.UDeg,
        MeasureNext = setting.MeasureNext is [var best, ..] ? FormattableString.Invariant($"{best.What}: then ±{best.UAfterDeg:0.00}° (k = 1)") : null,
    };

    /// <summary>The jaw, where it stands on the blade; null where nobody described it, so that its numbers are those of the pivot.</summary>
    private static JawPlacement? HeldBy(VisitPlan plan, PlannedClamp clamp) =>
        clamp.Jaw is { } jaw && (plan.Blade.Height is not { } height || jaw.ProtrusionMm < height.Millimetres) ? jaw : null;

    private static EdgeAngleView EdgeAngles(VisitPlan plan, PlannedClamp clamp) => new()
    {
        EdgeMm = [.. plan.Blade.Edge.Stations(101).Select(p => p.Place)],
        BladeHeightMm = plan.Blade.Height?.Millimetres ?? 40,
        Angles = [.. clamp.Angles.Where(a => double.IsFinite(a.Deg)).Select(a => new StationAngle(plan.Blade.Edge.At(a.AtMm).XMm, a.Deg))],
        WantedDeg = clamp.Settings[0].Wanted.Degrees,
        ToleranceDeg = (plan.Wish.Tolerance ?? SettingWish.UsualTolerance).Degrees,
        PivotMm = clamp.Pivot,
        JawFromHeelMm = HeldBy(plan, clamp)?.FromHeelMm,
        ProtrusionMm = HeldBy(plan, clamp)?.ProtrusionMm,
        ScoreFromMm = clamp.FromMm,
        ScoreToMm = clamp.ToMm,
    };

    private static BenchSetting Dial(VisitPlan plan, PlannedClamp clamp, DialledSetting setting)
    {
        BenchSetting common = new()
        {
            Name = plan.Rig.Kind,
            DialName = "mark",
            BladeSide = setting.Side,
            AngleDeg = setting.Wanted.Degrees,
            FromTheBack = plan.Blade.Reference == Core.Blades.AngleReference.Back,
            TouchOffMm = clamp.TouchOff?.DistanceMm,
            TouchOffText = clamp.TouchOff is { } touch ? FormattableString.Invariant($"{touch.What}, {touch.AtMm:0} mm from the heel") : null,
        };
        double support = clamp.Pivot is { } pivot ? plan.Blade.Edge.At((clamp.FromMm + clamp.ToMm) / 2).SupportDistanceMm(pivot) : 100;
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
                DiameterUMm = w.Wheel.Diameter.StandardUncertainty.Millimetres,
                DiameterEntry = "as given in the rig file",
                Rig = new WheelAndBarView
                {
                    SupportDistanceMm = support,
                    AngleDeg = w.Wanted.Degrees,
                    WheelName = w.Wheel.Name,
                    WheelDiameterMm = w.Wheel.Diameter.Value.Millimetres,
                    BarCentreToAxisMm = w.BarCentreToAxisMm,
                    BarDiameterMm = 2 * ((WheelAndBarRig)plan.Rig).BarRadiusMm,
                    OffsetMm = w.OffsetMm,
                    BladeHeightMm = plan.Blade.Height?.Millimetres ?? 40,
                    SpineMm = plan.Blade.Spine?.Millimetres ?? 2.5,
                    ProtrusionMm = clamp.Jaw?.ProtrusionMm,
                    BladeSide = setting.Side,
                },
            },
            RodSetting r => common with
            {
                Name = "rod",
                DialName = "rod pivot height",
                DialMm = r.PivotHeightMm,
                TravelMm = r.ChangeMm,
                Rig = new GuidedRodView
                {
                    SupportDistanceMm = support,
                    AngleDeg = r.Wanted.Degrees,
                    PivotHeightMm = r.PivotHeightMm,
                    FaceOffsetMm = ((GuidedRodRig)plan.Rig).FaceOffsetMm ?? 0,
                    BladeHeightMm = plan.Blade.Height?.Millimetres ?? 40,
                    SpineMm = plan.Blade.Spine?.Millimetres ?? 2.5,
                    BladeSide = setting.Side,
                },
            },
            LiftSetting l => common with
            {
                Name = "stone",
                DialName = "lift",
                DialMm = l.LiftMm,
                Rig = new BenchStoneView
                {
                    SupportDistanceMm = support,
                    AngleDeg = l.Wanted.Degrees,
                    LiftMm = l.LiftMm,
                    BladeHeightMm = plan.Blade.Height?.Millimetres ?? 40,
                    SpineMm = plan.Blade.Spine?.Millimetres ?? 2.5,
                    BladeSide = setting.Side,
                },
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

    private static SectionView Section(SectionResult section) => new()
    {
        BeforeMm = section.Outline.Before,
        AfterMm = section.Outline.After,
        RemovedMm = [.. section.Outline.RemovedLeft, .. section.Outline.RemovedRight],
        OldLeftDeg = section.Input.Old.LeftDeg,
        OldRightDeg = section.Input.Old.RightDeg,
        NewLeftDeg = section.Input.New.LeftDeg,
        NewRightDeg = section.Input.New.RightDeg,
    };

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
        return facts;
    }

    private static IReadOnlyList<BenchStage> Stages(Rig rig) => rig is WheelAndBarRig wheels
        ? [.. wheels.Wheels.Select((w, i) => new BenchStage(w.Name, Note: i == 0
            ? "to a burr along the whole edge, then light alternating passes"
            : "light alternating passes; leather edge-trailing"))]
        : [];
}
