using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>Where the bar stands before anything is changed.</summary>
/// <param name="Wheel">The wheel it was last set for.</param>
/// <param name="BarCentreToAxisMm">Bar centre to the wheels' axis.</param>
public sealed record BarNow(string Wheel, double BarCentreToAxisMm);

/// <summary>One or more wheels on an axis, a bar parallel to it, a holder that swings on the bar.</summary>
public sealed record WheelAndBarRig : Rig
{
    /// <summary>12 mm (common practice, no source).</summary>
    public const double UsualBarDiameterMm = 12;

    /// <summary>6 mm (chosen, not derived).</summary>
    public const double UsualHolderHalfThicknessMm = 6;

    /// <summary>0.2 mm: a calliper over bar and wheel (common practice, no source).</summary>
    public const double UsualDistanceUMm = 0.2;

    /// <inheritdoc />
    public override string Kind => "wheel-and-bar";

    /// <summary>The wheels, in the order they are used.</summary>
    public required IReadOnlyList<Wheel> Wheels { get; init; }

    /// <summary>Diameter of the bar, mm; null for 12.</summary>
    public double? BarDiameterMm { get; init; }

    /// <summary>How the holder sits on the bar; null for through.</summary>
    public BarSeat? Seat { get; init; }

    /// <summary>c: bar, or the holder's middle plane where it rests, off the blade's mid-plane, positive toward the blade's left, mm; null for zero.</summary>
    public double? OffsetMm { get; init; }

    /// <summary>s: half the holder's thickness where it rests on the bar, mm; null for 6 where it matters.</summary>
    public double? HolderHalfThicknessMm { get; init; }

    /// <summary>How the jaw holds; null for self-centring.</summary>
    public GripKind? Grip { get; init; }

    /// <summary>The side of the blade that lies on the fixed jaw; null for left.</summary>
    public Side? FixedJawSide { get; init; }

    /// <summary>j: front of the jaw to the pivot along the holder, mm; null where not described.</summary>
    public double? JawToPivotMm { get; init; }

    /// <summary>How deep the blade can go into the jaw, mm; null where not described.</summary>
    public double? JawDepthMm { get; init; }

    /// <summary>The posts; null where they are taken to point at the axis.</summary>
    public BarSlide? Slide { get; init; }

    /// <summary>How the rig stands now; null where not told.</summary>
    public BarNow? Now { get; init; }

    /// <summary>Standard uncertainty of setting the bar, mm; null for 0.2.</summary>
    public double? DistanceUMm { get; init; }

    /// <summary>Standard uncertainty of the offset, mm; null for 0.2 where the offset is given, 1 where it is a default.</summary>
    public double? OffsetUMm { get; init; }

    /// <summary>Radius of the bar, mm, in effect.</summary>
    public double BarRadiusMm => (BarDiameterMm ?? UsualBarDiameterMm) / 2;

    /// <summary>Seat in effect.</summary>
    public BarSeat SeatInEffect => Seat ?? BarSeat.Through;

    /// <summary>The posts in effect.</summary>
    public BarSlide SlideInEffect => Slide ?? new(0);

    /// <summary>Grip in effect.</summary>
    public GripKind GripInEffect => Grip ?? GripKind.SelfCentring;

    /// <summary>Uncertainty of the offset in effect, mm; larger where the seat hangs on defaults.</summary>
    public double OffsetUInEffectMm =>
        OffsetUMm ?? (OffsetMm is null || (SeatInEffect == BarSeat.Rests && HolderHalfThicknessMm is null) ? 1 : 0.2);

    /// <summary>Q of the bar for the side ground, before the grip's tilt, mm.</summary>
    public double SeatOffsetMm(Side groundSide) => WheelAndBar.OffsetMm(
        SeatInEffect, groundSide, OffsetMm ?? 0, HolderHalfThicknessMm ?? UsualHolderHalfThicknessMm, BarRadiusMm);

    /// <inheritdoc />
    public override IReadOnlyList<DefaultUsed> Defaults
    {
        get
        {
            List<DefaultUsed> used = [.. base.Defaults];
            Add(BarDiameterMm is null, "barDiameterMm", "12 mm", "moves the number to measure over the bar, and Q where the holder rests on it");
            Add(Seat is null, "seat", "through", "the bar is taken to run through the holder");
            Add(OffsetMm is null, "offsetMm", "0 mm", "the bar is taken to lie in the blade's mid-plane");
            Add(SeatInEffect == BarSeat.Rests && HolderHalfThicknessMm is null, "holderHalfThicknessMm", "6 mm", "each millimetre of it moves the angle by about half a degree; measure it");
            Add(Grip is null, "grip", "self-centring", "no tilt; a fixed jaw would tilt the blade by its primary half-angle");
            Add(Grip == GripKind.FixedJaw && FixedJawSide is null, "fixedJawSide", "left", "the blade's left is taken to lie on the fixed jaw");
            Add(JawToPivotMm is null, "jawToPivotMm", "0 mm", "not described, so jaw distance and protrusion are those of the pivot itself");
            Add(Slide is null, "barSlide", "straight at the axis", "the travel is then the change of distance itself");
            Add(DistanceUMm is null, "distanceUMm", "0.2 mm", "uncertainty of setting the bar by calliper");
            Add(OffsetUMm is null, "offsetUMm", FormattableString.Invariant($"{OffsetUInEffectMm} mm"), "uncertainty of the offset (chosen, not derived)");
            foreach (Wheel wheel in Wheels)
                Add(wheel.DiameterUIsDefault, $"wheels[{wheel.Name}].diameterUMm", "0.25 mm", "uncertainty of the diameter");
            return used;

            void Add(bool isDefault, string name, string value, string why)
            {
                if (isDefault)
                    used.Add(new(name, value, why));
            }
        }
    }

    /// <inheritdoc />
    public override IReadOnlyList<Reason> Refusals()
    {
        List<Reason> reasons = [.. base.Refusals()];
        if (Box is null)
            reasons.Add(new("rig-field", "pivotXMm and pivotDistanceMm are not given; they say where the holder's pivot may stand behind the edge."));
        if (Wheels.Count == 0)
            reasons.Add(new("rig-field", "wheels is empty; give at least one wheel with its name and diameterMm."));
        HashSet<string> names = new(StringComparer.Ordinal);
        for (int i = 0; i < Wheels.Count; i++)
        {
            Wheel wheel = Wheels[i];
            if (string.IsNullOrWhiteSpace(wheel.Name) || !names.Add(wheel.Name))
                reasons.Add(new("rig-field", FormattableString.Invariant($"wheels[{i}].name is '{wheel.Name}'; every wheel needs a name of its own.")));
            Check(reasons, FormattableString.Invariant($"wheels[{i}].diameterMm"), wheel.Diameter.Value.Millimetres, 10, 2000);
            Check(reasons, FormattableString.Invariant($"wheels[{i}].diameterUMm"), wheel.Diameter.StandardUncertainty.Millimetres, 0, 50);
            Check(reasons, FormattableString.Invariant($"wheels[{i}].wornMm"), wheel.Worn?.Value.Millimetres, 0, 2000);
            Check(reasons, FormattableString.Invariant($"wheels[{i}].wornUMm"), wheel.Worn?.StandardUncertainty.Millimetres, 0, 2000);
            Check(reasons, FormattableString.Invariant($"wheels[{i}].offsetDeg"), wheel.Offset.Degrees, -10, 20, "degrees");
            Check(reasons, FormattableString.Invariant($"wheels[{i}].rpm"), wheel.Rpm, 0, 60000, "turns a minute");
            Check(reasons, FormattableString.Invariant($"wheels[{i}].markedLimitMs"), wheel.MarkedLimitMs, 0.1, 500, "m/s");
        }

        Check(reasons, "barDiameterMm", BarDiameterMm, 0.5, 200);
        Check(reasons, "offsetMm", OffsetMm, -200, 200);
        Check(reasons, "holderHalfThicknessMm", HolderHalfThicknessMm, 0, 200);
        Check(reasons, "jawToPivotMm", JawToPivotMm, 0, 2000);
        Check(reasons, "jawDepthMm", JawDepthMm, 0, 500);
        Check(reasons, "barSlide.acrossMm", Slide?.AcrossMm, -3000, 3000);
        Check(reasons, "barSlide.directionDeg", Slide?.DirectionDeg, -360, 360, "degrees");
        Check(reasons, "barSlide.pitchMm", Slide?.PitchMm, 0.05, 50);
        Check(reasons, "distanceUMm", DistanceUMm, 0, 50);
        Check(reasons, "offsetUMm", OffsetUMm, 0, 50);
        if (Now is { } now)
        {
            Check(reasons, "now.barCentreToAxisMm", now.BarCentreToAxisMm, 1, 5000);
            if (!names.Contains(now.Wheel))
                reasons.Add(new("rig-field", $"now.wheel is '{now.Wheel}'; it should be one of {string.Join(", ", names)}."));
            if (SlideInEffect.OutOfReach(now.BarCentreToAxisMm) is not null)
                reasons.Add(new("rig-field", FormattableString.Invariant($"now.barCentreToAxisMm is {now.BarCentreToAxisMm}, nearer than the {Math.Abs(SlideInEffect.AcrossMm)} mm at which the posts pass the axis (barSlide.acrossMm); measure both again.")));
        }

        return reasons;
    }
}
