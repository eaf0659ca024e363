using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Sheets;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Rigs;

/// <summary>The rig from the side with each dimension named, at a sample edge in the middle of its reach.</summary>
internal static class RigDrawing
{
    /// <summary>The angle of the sample edge, degrees (chosen, not derived).</summary>
    public const double SampleDeg = 15;

    private const double SampleWheelMm = 250, SampleSpineMm = 2.5, SampleHeightMm = 45;

    /// <summary>Draws it; null for a rig without a side view (a dial).</summary>
    /// <param name="kind">Kind in files.</param>
    /// <param name="rig">The rig as far as it could be read; null draws one of usual sizes.</param>
    /// <param name="wheel">The wheel to draw; null for the first.</param>
    /// <param name="units">Units.</param>
    /// <param name="view">The person's hand.</param>
    public static Drawing? Of(string kind, Rig? rig, Wheel? wheel, UnitsView units, ViewPreferences view)
    {
        RigView? side = kind switch
        {
            "wheel-and-bar" => Bar(rig as WheelAndBarRig, wheel),
            "guided-rod" => Rod(rig as GuidedRodRig),
            "bench-stone" => Stone(rig as BenchStoneRig),
            _ => null,
        };
        return side is null ? null : RigPicture.Named(side, Style(units, view));
    }

    /// <summary>How drawings show numbers for this person.</summary>
    public static SheetStyle Style(UnitsView units, ViewPreferences view) =>
        new(units.Unit == LengthUnit.Inch, units.Culture.NumberFormat.NumberDecimalSeparator == ",", view.Hand == WorkHand.Left);

    private static WheelAndBarView Bar(WheelAndBarRig? rig, Wheel? wheel)
    {
        wheel ??= rig?.Wheels.Count > 0 ? rig.Wheels[0] : null;
        double radius = wheel?.RadiusMm ?? SampleWheelMm / 2;
        double p = rig?.Box is { } box ? (box.LeastDistanceMm + box.MostDistanceMm) / 2 : 100;
        double q = rig?.SeatOffsetMm(Side.Right) ?? 0;
        double angle = double.DegreesToRadians(SampleDeg);
        return new()
        {
            WheelName = wheel?.Name ?? "sample wheel",
            WheelDiameterMm = 2 * radius,
            BarCentreToAxisMm = WheelAndBar.CentreDistanceMm(radius, angle, p, q),
            BarDiameterMm = 2 * (rig?.BarRadiusMm ?? 6),
            OffsetMm = q,
            HolderHalfThicknessMm = rig?.HolderHalfThicknessMm ?? WheelAndBarRig.UsualHolderHalfThicknessMm,
            SupportDistanceMm = p,
            AngleDeg = SampleDeg,
            BladeHeightMm = Math.Min(SampleHeightMm, p),
            SpineMm = SampleSpineMm,
            ProtrusionMm = Protrusion(p, rig?.JawToPivotMm ?? (p * 0.6)),
        };
    }

    private static GuidedRodView Rod(GuidedRodRig? rig)
    {
        double p = rig?.Box is { } box ? (box.LeastDistanceMm + box.MostDistanceMm) / 2 : 150;
        double face = rig?.FaceOffsetMm ?? 0;
        return new()
        {
            PivotHeightMm = GuidedRod.PivotHeightMm(double.DegreesToRadians(SampleDeg), p, face),
            FaceOffsetMm = face,
            SupportDistanceMm = p,
            AngleDeg = SampleDeg,
            BladeHeightMm = Math.Min(SampleHeightMm, p),
            SpineMm = SampleSpineMm,
            ProtrusionMm = Protrusion(p, rig?.JawToPivotMm ?? (p * 0.8)),
        };
    }

    private static BenchStoneView Stone(BenchStoneRig? rig)
    {
        bool corner = rig?.Support != StoneSupport.MidPlane;
        double angle = double.DegreesToRadians(SampleDeg);
        return new()
        {
            LiftMm = corner ? BenchStone.StackMm(angle, SampleHeightMm, SampleSpineMm) : BenchStone.MidPlaneLiftMm(angle, SampleHeightMm),
            SpineCorner = corner,
            SupportDistanceMm = SampleHeightMm,
            AngleDeg = SampleDeg,
            BladeHeightMm = SampleHeightMm,
            SpineMm = SampleSpineMm,
        };
    }

    private static double? Protrusion(double support, double jawToPivot) => support - jawToPivot is var out1 and > 1 ? out1 : null;
}
