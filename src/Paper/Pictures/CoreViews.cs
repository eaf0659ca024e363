using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.PenTest;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Core.Visits;

namespace Whetwright.Paper.Pictures;

/// <summary>What the pictures need, taken from Core's results; sheets and pages use the same. Computes nothing of its own.</summary>
public static class CoreViews
{
    /// <summary>The section before and after.</summary>
    public static SectionView Section(SectionResult section) => new()
    {
        BeforeMm = section.Outline.Before,
        AfterMm = section.Outline.After,
        RemovedMm = [.. section.Outline.RemovedLeft, .. section.Outline.RemovedRight],
        OldLeftDeg = section.Input.Old.LeftDeg,
        OldRightDeg = section.Input.Old.RightDeg,
        NewLeftDeg = section.Input.New.LeftDeg,
        NewRightDeg = section.Input.New.RightDeg,
    };

    /// <summary>The angle along the edge with the clamp on it; the usual tolerance where none is told.</summary>
    public static EdgeAngleView EdgeAngles(Blade blade, PlannedClamp clamp, Angle? tolerance) => new()
    {
        EdgeMm = [.. blade.Edge.Stations(101).Select(p => p.Place)],
        BladeHeightMm = blade.Height?.Millimetres ?? 40,
        Angles = [.. clamp.Angles.Where(a => double.IsFinite(a.Deg)).Select(a => new StationAngle(blade.Edge.At(a.AtMm).XMm, a.Deg))],
        WantedDeg = clamp.Settings[0].Wanted.Degrees,
        ToleranceDeg = (tolerance ?? SettingWish.UsualTolerance).Degrees,
        PivotMm = clamp.Pivot,
        JawFromHeelMm = HeldBy(blade, clamp)?.FromHeelMm,
        ProtrusionMm = HeldBy(blade, clamp)?.ProtrusionMm,
        ScoreFromMm = clamp.FromMm,
        ScoreToMm = clamp.ToMm,
    };

    /// <summary>The rig from the side with a setting; null for a dial or a belt.</summary>
    public static RigView? Rig(Rig rig, Blade blade, PlannedClamp clamp, DialledSetting setting)
    {
        double support = clamp.Pivot is { } pivot ? blade.Edge.At((clamp.FromMm + clamp.ToMm) / 2).SupportDistanceMm(pivot) : 100;
        RigView? view = (rig, setting) switch
        {
            (WheelAndBarRig wheels, WheelSetting w) => new WheelAndBarView
            {
                SupportDistanceMm = support,
                AngleDeg = w.Wanted.Degrees,
                WheelName = w.Wheel.Name,
                WheelDiameterMm = w.Wheel.Diameter.Value.Millimetres,
                BarCentreToAxisMm = w.BarCentreToAxisMm,
                BarDiameterMm = 2 * wheels.BarRadiusMm,
                OffsetMm = w.OffsetMm,
                ProtrusionMm = clamp.Jaw?.ProtrusionMm,
            },
            (GuidedRodRig rod, RodSetting r) => new GuidedRodView
            {
                SupportDistanceMm = support,
                AngleDeg = r.Wanted.Degrees,
                PivotHeightMm = r.PivotHeightMm,
                FaceOffsetMm = rod.FaceOffsetMm ?? 0,
            },
            (BenchStoneRig stone, LiftSetting l) => new BenchStoneView
            {
                SupportDistanceMm = support,
                AngleDeg = l.Wanted.Degrees,
                LiftMm = l.LiftMm,
                SpineCorner = stone.Support != StoneSupport.MidPlane && blade.Spine is not null,
            },
            _ => null,
        };
        return view is null ? null : view with { BladeHeightMm = blade.Height?.Millimetres ?? 40, SpineMm = blade.Spine?.Millimetres ?? 2.5, BladeSide = setting.Side };
    }

    /// <summary>The jaw, where it stands on the blade; null where nobody described it, so that its numbers are those of the pivot.</summary>
    public static JawPlacement? HeldBy(Blade blade, PlannedClamp clamp) =>
        clamp.Jaw is { } jaw && (blade.Height is not { } height || jaw.ProtrusionMm < height.Millimetres) ? jaw : null;

    /// <summary>The pen test to expect.</summary>
    public static PenTestView PenTest(VisitPenTest test) => new()
    {
        For = $"{test.On}, {(test.Side == Side.Left ? "left" : "right")}",
        FacetWidthMm = test.Forecast.Input.WidthMm,
        BareFromMm = test.Forecast.Band.FromMm,
        BareToMm = test.Forecast.Band.ToMm,
        FirstTouch = test.Forecast.FirstTouch switch
        {
            FirstTouch.Apex => "at the apex",
            FirstTouch.Shoulder => "at the shoulder",
            FirstTouch.Inside => "inside the facet",
            _ => "everywhere",
        },
        Meaning = test.Forecast.FirstTouch switch
        {
            FirstTouch.Apex => "steeper than the old facet, as planned",
            FirstTouch.Shoulder => "flatter than the old facet, as planned",
            _ => "matches the old facet",
        },
    };
}
