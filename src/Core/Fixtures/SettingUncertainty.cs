using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// How sure a setting is of what it will grind: first-order propagation through the fixture's own formula, degrees. What the rig does beyond its
/// geometry (play, flex, the hand) is in it only as far as it has been learnt.
/// </summary>
public static class SettingUncertainty
{
    private const string Wear = "wear since the wheel was measured";

    /// <summary>Wheel and bar: diameter, bar distance, support distance, offset, grip tilt over <paramref name="jawToPivotMm"/>, learnt correction, wear since the wheel was measured.</summary>
    public static PropagatedUncertainty WheelAndBar(
        double wheelRadiusMm, double wheelDiameterUMm, double barDistanceMm, double barDistanceUMm, double supportMm, double supportUMm,
        double offsetMm, double offsetUMm, double tiltUDeg = 0, double jawToPivotMm = 0, double tiltDeg = 0, MeasuredAngle? learnt = null,
        double wheelWornUMm = 0)
    {
        double angle = Fixtures.WheelAndBar.AngleRad(wheelRadiusMm, barDistanceMm, supportMm, offsetMm);
        (double perD, double perR, double perP, double perQ) = Fixtures.WheelAndBar.SensitivityRad(wheelRadiusMm, angle, supportMm, offsetMm);
        List<InputQuantity> inputs =
        [
            new("Ø", "wheel diameter", 2 * wheelRadiusMm, wheelDiameterUMm, "mm"),
            new("D", "bar distance", barDistanceMm, barDistanceUMm, "mm"),
            new("p", "support distance", supportMm, supportUMm, "mm"),
            new("Q", "bar off the mid-plane", offsetMm, offsetUMm, "mm"),
            new("τ", "grip tilt", tiltDeg, tiltUDeg, "deg"),
            new("e", "learnt correction", learnt?.Value.Degrees ?? 0, learnt?.StandardUncertainty.Degrees ?? 0, "deg"),
        ];
        bool worn = wheelWornUMm > 0;
        if (worn)
            inputs.Add(new("w", Wear, 0, wheelWornUMm, "mm"));
        double radToDeg = double.RadiansToDegrees(1);
        double perTilt = perQ * jawToPivotMm * Math.Cos(double.DegreesToRadians(tiltDeg));
        return Propagation.FirstOrder(
            x => double.RadiansToDegrees(Fixtures.WheelAndBar.AngleRad((x[0] - (worn ? x[6] : 0)) / 2, x[1], x[2], x[3])) + x[5],
            inputs,
            partials: [perR / 2 * radToDeg, perD * radToDeg, perP * radToDeg, perQ * radToDeg, perTilt, 1, .. worn ? [-perR / 2 * radToDeg] : Array.Empty<double>()]);
    }

    /// <summary>Guided rod: pivot height, support distance, face offset, learnt correction.</summary>
    public static PropagatedUncertainty GuidedRod(
        double heightMm, double heightUMm, double supportMm, double supportUMm, double faceOffsetMm, double faceOffsetUMm, MeasuredAngle? learnt = null) =>
        Propagation.FirstOrder(
            x => double.RadiansToDegrees(Fixtures.GuidedRod.AngleRad(x[0], x[1], x[2])) + x[3],
            [
                new("h", "pivot height", heightMm, heightUMm, "mm"),
                new("p", "support distance", supportMm, supportUMm, "mm"),
                new("t", "face offset", faceOffsetMm, faceOffsetUMm, "mm"),
                new("e", "learnt correction", learnt?.Value.Degrees ?? 0, learnt?.StandardUncertainty.Degrees ?? 0, "deg"),
            ]);

    /// <summary>Bench stone: lift, support distance, spine (zero for a lift to the mid-plane), learnt correction.</summary>
    public static PropagatedUncertainty BenchStone(
        double liftMm, double liftUMm, double supportMm, double supportUMm, double spineMm, double spineUMm, MeasuredAngle? learnt = null) =>
        Propagation.FirstOrder(
            x => double.RadiansToDegrees(Fixtures.BenchStone.AngleFromStackRad(x[0], x[1], x[2])) + x[3],
            [
                new("H", "lift", liftMm, liftUMm, "mm"),
                new("p", "support distance", supportMm, supportUMm, "mm"),
                new("T", "spine thickness", spineMm, spineUMm, "mm"),
                new("e", "learnt correction", learnt?.Value.Degrees ?? 0, learnt?.StandardUncertainty.Degrees ?? 0, "deg"),
            ]);

    /// <summary>
    /// The measurements that would shrink it, the best first, each said once: each source brought down to what a careful measurement leaves. What such a measurement
    /// leaves is common practice, no source: calliper 0.05 mm on a diameter, 0.1 on the bar, depth gauge 0.3 on the support distance, 0.05 on seat and
    /// stack, 0.1 on pivot height; 0.1° on the grip; an edge read after grinding 0.15°.
    /// </summary>
    public static IReadOnlyList<NextMeasurement> MeasureNext(PropagatedUncertainty result)
    {
        double square = result.Uncertainty * result.Uncertainty;
        double worn = result.Budget.Where(b => b.Source == Wear).Sum(b => b.Uncertainty);
        List<NextMeasurement> next = [];
        for (int i = 0; i < result.Budget.Count; i++)
        {
            BudgetShare share = result.Budget[i];
            if (share.Source == Wear)
                continue; // measuring the diameter ends it: counted there
            (string what, double leaves) = Gain(share.Source);
            double after = Math.Min(share.Uncertainty, Math.Abs(result.Partials[i]) * leaves);
            double u = Math.Sqrt(Math.Max(0, square - (share.Uncertainty * share.Uncertainty) + (after * after) - (share.Source == "wheel diameter" ? worn * worn : 0)));
            if (u < result.Uncertainty * (1 - 1e-6))
                next.Add(new(what, u));
        }

        next.Sort((a, b) => a.UAfterDeg.CompareTo(b.UAfterDeg));
        return [.. next.DistinctBy(m => m.What, StringComparer.Ordinal)];
    }

    private static (string What, double Leaves) Gain(string source) => source switch
    {
        "wheel diameter" => ("the wheel's diameter, by calliper at three places, to 0.05 mm", 0.05),
        "bar distance" => ("the bar's far side to the wheel, by calliper, to 0.1 mm", 0.1),
        "support distance" => ("the distance from bar or pivot to the edge after clamping, to 0.3 mm", 0.3),
        "bar off the mid-plane" => ("the seat of the holder on the bar: offset and half-thickness, to 0.05 mm", 0.05),
        "grip tilt" => ("the primary half-angle of the flank in the jaw, to 0.1°", 0.1),
        "pivot height" => ("the pivot's height over the blade's middle, to 0.1 mm", 0.1),
        "face offset" => ("the stone's face below the rod's line, to 0.05 mm", 0.05),
        "lift" => ("the stack, by calliper, to 0.05 mm", 0.05),
        "spine thickness" => ("the spine's thickness, by calliper, to 0.05 mm", 0.05),
        _ => ("the edge after grinding, to 0.15°", 0.15),
    };
}
