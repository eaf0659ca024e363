using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>Settings on a bench stone: where under the blade the lift goes, and how high it is.</summary>
internal sealed class StonePlanner(PlanContext context, BenchStoneRig rig)
{
    /// <summary>0.1 mm: a stack of coins or shims (chosen, not derived).</summary>
    private const double LiftUMm = 0.1;

    public SettingPlan Plan(CancellationToken cancellationToken)
    {
        Blade blade = context.Blade;
        List<Reason> refusals = [];
        bool corner = (rig.Support ?? StoneSupport.SpineCorner) == StoneSupport.SpineCorner;
        if (corner && blade.Spine is null)
            refusals.Add(Blade.Missing("spineMm", "the stack under the spine"));
        if (rig.Box is null && blade.Height is null && context.Wish.PivotMm is null)
            refusals.Add(Blade.Missing("heightMm", "the lift on the stone"));
        if (refusals.Count > 0)
            return new() { Refusals = refusals };
        double spine = corner ? blade.Spine!.Value.Millimetres : 0;
        double height = blade.Height?.Millimetres ?? 0;
        if (rig.Box is null && blade.Height is not null)
            context.Defaults.Add(new("pivotDistanceMm", FormattableString.Invariant($"{height} mm"), "the lift is taken to stand under the spine, the blade's height behind the edge"));
        PivotBox box = rig.Box ?? (blade.Height is null ? new(0, 1, 1, 1) : new(0, blade.Edge.ChordMm, height, height));
        Angle learnt = rig.LearntCorrection?.Value ?? Angle.Zero;
        BenchStoneMap map = new(spine);
        List<ClampChannel> channels = [.. context.Sides.Select(s => new ClampChannel(SettingPlanner.Word(s.Side), map, s.Angle - learnt) { Side = s.Side })];
        bool alike = blade.Bend is null && channels.Count == 2 && channels[0].Target == channels[1].Target;
        IReadOnlyList<Clamp> clamps = ClampPlanning.Clamps(context, alike ? [channels[0]] : channels, box, null, null, refusals, cancellationToken);
        List<PlannedClamp> planned = [];
        PropagatedUncertainty? least = null;
        foreach (Clamp clamp in clamps)
        {
            double support = ClampPlanning.Middle(clamp).SupportDistanceMm(clamp.Pivot);
            List<DialledSetting> settings = [];
            for (int i = 0; i < context.Sides.Count; i++)
            {
                ClampSetting found = clamp.Settings[alike ? 0 : i];
                if (found.SettingMm <= 0)
                {
                    refusals.Add(new("below-the-stone", FormattableString.Invariant(
                        $"With its spine on the bare stone this blade already stands at {double.RadiansToDegrees(BenchStone.SmallestAngleRad(support, spine)):0.0}°, more than the {context.Sides[i].Angle} asked on the {SettingPlanner.Word(context.Sides[i].Side)}. Ask for more, or use a clamp.")));
                    continue;
                }

                PropagatedUncertainty u = SettingUncertainty.BenchStone(
                    found.SettingMm, LiftUMm, support, context.SupportUMm, spine, corner ? 0.1 : 0, rig.LearntCorrection);
                if (least is null || u.Uncertainty > least.Uncertainty)
                    least = u;
                settings.Add(new LiftSetting
                {
                    Side = context.Sides[i].Side,
                    Wanted = context.Sides[i].Angle,
                    WorstDeg = found.WorstDeg,
                    AnglesDeg = [.. found.AnglesDeg.Select(a => a + learnt.Degrees)],
                    UDeg = u.Uncertainty,
                    LiftMm = found.SettingMm,
                    AtMm = clamp.Pivot.X,
                    Coins = rig.CoinsMm.Count > 0 ? CoinStack.Nearest(found.SettingMm, rig.CoinsMm) : null,
                });
            }

            planned.Add(new()
            {
                FromMm = clamp.Problem.ScoreFromMm,
                ToMm = clamp.Problem.ScoreToMm,
                Pivot = clamp.Pivot,
                WorstDeg = clamp.WorstDeg,
                BoundDeg = clamp.BoundDeg,
                Angles = ClampPlanning.Angles(clamp, learnt),
                Settings = settings,
                Search = clamp,
            });
        }

        return new()
        {
            Refusals = refusals,
            Clamps = planned,
            UDeg = least?.Uncertainty,
            Budget = least?.Budget ?? [],
            MeasureNext = least is null ? [] : SettingUncertainty.MeasureNext(least),
            Chain = () => Explain(planned, spine),
        };
    }

    private static List<Derivation> Explain(List<PlannedClamp> planned, double spine)
    {
        List<Derivation> chain = [];
        foreach (PlannedClamp clamp in planned)
        {
            chain.AddRange(clamp.Search!.Explain());
            double support = ClampPlanning.Middle(clamp.Search!).SupportDistanceMm(clamp.Pivot!.Value);
            foreach (LiftSetting setting in clamp.Settings.OfType<LiftSetting>())
                chain.Add(BenchStone.ExplainLift(BenchStone.AngleFromStackRad(setting.LiftMm, support, spine), support, spine));
        }

        return chain;
    }
}
