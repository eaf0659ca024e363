using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>Settings of a wheel-and-bar rig: one clamp for all wheels and both sides, its own bar distance for each.</summary>
internal sealed class WheelPlanner(PlanContext context, WheelAndBarRig rig)
{
    private readonly Blade blade = context.Blade;
    private readonly List<Reason> refusals = [];
    private Angle tilt;
    private double tiltUDeg;

    public SettingPlan Plan(CancellationToken cancellationToken)
    {
        FindTilt();
        List<Pass> passes = Passes();
        List<ClampChannel> channels = [];
        foreach (Pass pass in passes)
            pass.Channel = ChannelFor(pass, channels);
        IReadOnlyList<Clamp> clamps = ClampPlanning.Clamps(
            context, channels, rig.Box!, rig.JawToPivotMm, rig.JawDepthMm, refusals, cancellationToken);
        List<Reason> cautions = Cautions(passes);
        if (clamps.Count == 0)
            return new() { Refusals = refusals, Cautions = cautions };
        List<PlannedClamp> planned = [];
        PropagatedUncertainty? least = null;
        foreach (Clamp clamp in clamps)
            planned.Add(Planned(clamp, passes, ref least));
        if (tilt > Angle.Zero && FixedJawNote.For(planned, tilt, rig.FixedJawSide ?? Side.Left) is { } turned)
            context.Notes.Add(turned);
        double? force = null;
        Derivation? flex = null;
        if (rig.JawToPivotMm is null)
            context.Notes.Add(new("not-given", "jawToPivotMm is not given, so the hand force that keeps the tolerance is left out; measure from the jaw's front to the pivot."));
        else
            force = ClampPlanning.HandForce(context, planned.Max(c => c.Jaw!.ProtrusionMm), out flex);
        if (rig.Now is null)
            context.Notes.Add(new("not-given", "now is not given, so the travel from how the rig stands now is left out; measure bar to wheel and add now."));
        return new()
        {
            Refusals = refusals,
            Cautions = cautions,
            Clamps = planned,
            UDeg = least!.Uncertainty,
            Budget = least.Budget,
            MeasureNext = SettingUncertainty.MeasureNext(least),
            HandForceN = force,
            ShimMm = tilt > Angle.Zero && rig.JawDepthMm is { } depth ? Grip.ShimMm(depth, tilt.Radians) : null,
            Chain = () => new WheelExplanation(rig, tilt).Explain(planned, flex),
        };
    }

    private void FindTilt()
    {
        if (rig.GripInEffect != GripKind.FixedJaw)
            return;
        if (rig.JawToPivotMm is null)
        {
            context.Notes.Add(new("tilt-left-out", "grip is fixed-jaw, but jawToPivotMm is not given, so the tilt it gives the blade is left out: the sides may differ by degrees. Measure from the jaw's front to the pivot."));
            tiltUDeg = 0;
        }
        else if (blade.PrimaryHalf is { } half)
        {
            tilt = blade.Reference == AngleReference.Back ? Angle.Zero : half;
            tiltUDeg = 0.5;
            context.Defaults.Add(new("tiltUDeg", "0.5°", "a fixed jaw tilts the blade by about its primary half-angle (chosen, not derived)"));
        }
        else
        {
            tiltUDeg = 2;
            context.Defaults.Add(new("primaryHalfDeg", "0° ± 2°", "grip is fixed-jaw, so the flank's angle tilts the blade; it is not known and is carried as doubt"));
        }
    }

    private List<Pass> Passes()
    {
        List<Pass> passes = [];
        IEnumerable<Wheel> wheels = context.Wish.Wheel is { } name ? rig.Wheels.Where(w => w.Name == name) : rig.Wheels;
        if (context.Wish.SettingMm is not null && context.Wish.Wheel is null && rig.Wheels.Count > 1)
        {
            Wheel one = rig.Wheels.FirstOrDefault(w => w.Name == rig.Now?.Wheel) ?? rig.Wheels[0];
            wheels = [one];
            context.Notes.Add(new("one-wheel", $"The given bar distance is taken for {one.Name}; name another wheel to evaluate that."));
        }

        foreach (Wheel wheel in wheels)
        {
            foreach (WantedSide side in context.Sides)
            {
                double gain = Grip.OffsetGainFromJawMm(rig.JawToPivotMm ?? 0, tilt.Radians);
                passes.Add(new Pass
                {
                    Wheel = wheel,
                    Side = side.Side,
                    Wanted = side.Angle + wheel.Offset,
                    Learnt = wheel.LearntCorrection ?? rig.LearntCorrection,
                    OffsetMm = (rig.SeatOffsetMm(side.Side) * Math.Cos(tilt.Radians))
                        + (tilt > Angle.Zero ? Grip.Sign(side.Side, rig.FixedJawSide ?? Side.Left) * gain : 0),
                });
            }
        }

        return passes;
    }

    /// <summary>Sides that are set alike share a channel, so that the search does not work twice.</summary>
    private ClampChannel ChannelFor(Pass pass, List<ClampChannel> channels)
    {
        Angle target = pass.Wanted - (pass.Learnt?.Value ?? Angle.Zero);
        foreach (ClampChannel known in channels)
        {
            if (blade.Bend is null && known.Map is WheelAndBarMap map && map.WheelRadiusMm == pass.Wheel.RadiusMm
                && known.OffsetMm == pass.OffsetMm && known.Target == target)
            {
                return known;
            }
        }

        ClampChannel channel = new($"{pass.Wheel.Name}, {SettingPlanner.Word(pass.Side)}", new WheelAndBarMap(pass.Wheel.RadiusMm), target)
        {
            OffsetMm = pass.OffsetMm,
            Side = pass.Side,
        };
        channels.Add(channel);
        return channel;
    }

    private PlannedClamp Planned(Clamp clamp, List<Pass> passes, ref PropagatedUncertainty? least)
    {
        JawPlacement jaw = JawPlacement.Of(blade, clamp.Pivot, rig.JawToPivotMm ?? 0, rig.JawDepthMm);
        if (rig.JawToPivotMm is not null && jaw.CannotHold(blade, rig.JawDepthMm) is { } cannot)
            refusals.Add(cannot);
        EdgePoint middle = ClampPlanning.Middle(clamp);
        double support = middle.SupportDistanceMm(clamp.Pivot);
        List<DialledSetting> settings = [];
        foreach (Pass pass in passes)
        {
            ClampSetting found = clamp.Settings.First(s => ReferenceEquals(s.Channel, pass.Channel));
            double distance = found.SettingMm;
            double bend = blade.Bend?.OutwardMm(middle.XMm, pass.Side) ?? 0;
            PropagatedUncertainty u = SettingUncertainty.WheelAndBar(
                pass.Wheel.RadiusMm, pass.Wheel.Diameter.StandardUncertainty.Millimetres, distance, rig.DistanceUMm ?? WheelAndBarRig.UsualDistanceUMm,
                support, context.SupportUMm, pass.OffsetMm + bend, rig.OffsetUInEffectMm, tiltUDeg, rig.JawToPivotMm ?? 0, tilt.Degrees, pass.Learnt, pass.Wheel.WornUMm);
            if (least is null || u.Uncertainty > least.Uncertainty)
                least = u;
            settings.Add(Dialled(pass, found, distance, u));
        }

        ClearanceVerdict? clears = rig.JawToPivotMm is null ? null : ClampPlanning.Clearance(
            context, clamp, jaw, rig.HolderHalfThicknessMm, passes.Select(p => ((p.Wanted - (p.Learnt?.Value ?? Angle.Zero)).Radians, (double?)p.Wheel.RadiusMm)));
        if (clears?.Why(passes.Min(p => p.Wanted).Degrees) is { } touches)
            refusals.Add(touches);
        double reach = Math.Sqrt((support * support) + (passes[0].OffsetMm * passes[0].OffsetMm));
        return new()
        {
            FromMm = clamp.Problem.ScoreFromMm,
            ToMm = clamp.Problem.ScoreToMm,
            Pivot = clamp.Pivot,
            Jaw = jaw,
            WorstDeg = clamp.WorstDeg,
            BoundDeg = clamp.BoundDeg,
            Angles = ClampPlanning.Angles(clamp, passes[0].Learnt?.Value ?? Angle.Zero),
            Settings = settings,
            Clears = clears,
            Search = clamp,
            TouchOff = new(middle.SMm, "edge to far side of bar, square to the edge", reach + rig.BarRadiusMm),
        };
    }

    private WheelSetting Dialled(Pass pass, ClampSetting found, double distance, PropagatedUncertainty u)
    {
        double? travel = null;
        BarSlide slide = rig.SlideInEffect;
        if (slide.OutOfReach(distance) is { } far)
            Refuse(far);
        else if (rig.Now is { } now)
            travel = slide.TravelMm(now.BarCentreToAxisMm, distance);
        double gap = distance - pass.Wheel.RadiusMm - rig.BarRadiusMm;
        if (gap <= 0)
        {
            Refuse(new("bar-against-wheel", FormattableString.Invariant(
                $"The bar would stand {-gap:0.0} mm inside {pass.Wheel.Name}: its centre is asked {distance:0.0} mm from the axis of a wheel {2 * pass.Wheel.RadiusMm:0.0} mm across. Clamp the blade further out or ask for a larger angle.")));
        }

        Angle learnt = pass.Learnt?.Value ?? Angle.Zero;
        return new()
        {
            Wheel = pass.Wheel,
            Side = pass.Side,
            Wanted = pass.Wanted,
            OffsetMm = pass.OffsetMm,
            WorstDeg = found.WorstDeg,
            AnglesDeg = learnt == Angle.Zero ? found.AnglesDeg : [.. found.AnglesDeg.Select(a => a + learnt.Degrees)],
            UDeg = u.Uncertainty,
            BarCentreToAxisMm = distance,
            BarFarSideToWheelMm = BarSlide.FarSideToWheelMm(distance, rig.BarRadiusMm, pass.Wheel.RadiusMm),
            BarTravelMm = travel,
            Turns = travel is { } t ? slide.Turns(t) : null,
        };
    }

    private void Refuse(Reason reason)
    {
        if (!refusals.Contains(reason))
            refusals.Add(reason);
    }

    private static List<Reason> Cautions(List<Pass> passes)
    {
        List<Reason> cautions =
        [
            new("turning-wheel", "Guards on, eyes protected, no gloves or loose sleeves near what turns; strop and buff edge-trailing. The maker's instructions and local rules decide."),
        ];
        foreach (Wheel wheel in passes.Select(p => p.Wheel).Distinct())
        {
            if (WheelSpeed.Caution(wheel) is { } caution)
                cautions.Add(caution);
        }

        return cautions;
    }

    private sealed class Pass
    {
        public required Wheel Wheel { get; init; }

        public required Side Side { get; init; }

        public required Angle Wanted { get; init; }

        public required MeasuredAngle? Learnt { get; init; }

        public required double OffsetMm { get; init; }

        public ClampChannel? Channel { get; set; }
    }
}
