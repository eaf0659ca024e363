using System.Globalization;

using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>The chain behind a clamp's numbers, built when asked for.</summary>
public static class ClampExplanation
{
    /// <summary>Worst deviation, the angle where it is, what gives that angle, and the bound.</summary>
    public static IReadOnlyList<Derivation> Explain(this Clamp clamp)
    {
        List<Derivation> chain = [];
        ClampSetting worst = clamp.Settings.MaxBy(s => s.WorstDeg)!;
        foreach (ClampSetting setting in clamp.Settings)
            chain.Add(Angle(clamp, setting, setting.WorstStation));
        Derivation angle = Angle(clamp, worst, worst.WorstStation);
        double weight = clamp.Problem.Weights[worst.WorstStation - clamp.Problem.FirstScored];
        chain.Add(new(
            "worst deviation", clamp.WorstDeg, "deg", "max w·|α − target| over the scored stations and settings", "definition", [
                new("α", $"angle of {worst.Channel.Name} where it is worst", angle.Value, "deg", angle.Value > worst.Channel.Target.Degrees ? weight : -weight, angle),
                new("target", "angle wanted", worst.Channel.Target.Degrees, "deg", angle.Value > worst.Channel.Target.Degrees ? -weight : weight),
                new("w", "weight of the station", weight, "1", IsDefault: weight == 1),
                new("from", "scored from", clamp.Problem.ScoreFromMm, "mm"),
                new("to", "scored to", clamp.Problem.ScoreToMm, "mm"),
            ],
            clamp.Method));
        if (clamp.BoundDeg is { } bound)
        {
            chain.Add(new(
                "bound", bound, "deg", "no pivot of the box has a setting with max w·|α − target| below this", "branch and bound, Fixtures/Clamping/README.md", [
                    new("worst", "worst deviation found", clamp.WorstDeg, "deg"),
                    new("boxes", "boxes of pivots settled", clamp.BoxesTried, "1"),
                    new("rounding", "margin a proof must clear", double.RadiansToDegrees(BoxMinimax.RoundingRad), "deg"),
                ],
                clamp.Method));
        }

        return chain;
    }

    /// <summary>α at one station under one setting.</summary>
    public static Derivation Angle(Clamp clamp, ClampSetting setting, int station)
    {
        EdgePoint e = clamp.Problem.Stations[station];
        ClampChannel channel = setting.Channel;
        double p = e.SupportDistanceMm(clamp.Pivot);
        double q = channel.OffsetAtMm(p, clamp.PivotDistanceMm, ClampSearch.BendAt(clamp.Problem, channel, station));
        Derivation support = new(
            "support distance", p, "mm", "p = (E − J)·n", "derived in docs/conventions.md", [
                new("Eₓ", "edge, toward the tip", e.XMm, "mm", e.NormalX),
                new("E_y", "edge, outward", e.YMm, "mm", e.NormalY),
                new("Jₓ", "pivot, toward the tip", clamp.Pivot.X, "mm", -e.NormalX),
                new("J_y", "pivot, outward", clamp.Pivot.Y, "mm", -e.NormalY),
                new("fall", "turn of the tangent from x", e.Fall.Degrees, "deg"),
            ],
            "blades.support-distance/1");
        (double perSetting, double perSupport, double perOffset) = channel.Map.SensitivityRad(setting.SettingMm, p, q);
        List<DerivationInput> inputs =
        [
            new(channel.Map.SettingSymbol, channel.Map.SettingName, setting.SettingMm, "mm", double.RadiansToDegrees(perSetting)),
            new("p", "support distance", p, "mm", double.RadiansToDegrees(perSupport), support),
            new("Q", "offset", q, "mm", double.RadiansToDegrees(perOffset)),
        ];
        if (channel.Map is WheelAndBarMap wheel)
            inputs.Add(new("R", "wheel radius", wheel.WheelRadiusMm, "mm"));
        return new(
            string.Create(CultureInfo.InvariantCulture, $"angle of {channel.Name} at {e.SMm:0.0} mm"),
            setting.AnglesDeg[station],
            "deg",
            channel.Map.Formula,
            "derived in docs/conventions.md",
            inputs,
            clamp.Method);
    }
}
