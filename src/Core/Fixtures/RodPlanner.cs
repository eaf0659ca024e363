using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>Settings of a guided rod: one clamp, a pivot height for each side.</summary>
internal sealed class RodPlanner(PlanContext context, GuidedRodRig rig)
{
    /// <summary>0.5 mm: a pivot's height read against a rule (chosen, not derived).</summary>
    private const double HeightUMm = 0.5;

    public SettingPlan Plan(CancellationToken cancellationToken)
    {
        Blade blade = context.Blade;
        List<Reason> refusals = [];
        double face = rig.FaceOffsetMm ?? 0;
        double faceU = rig.FaceOffsetMm is null ? 2 : 0.2;
        context.Defaults.Add(new("pivotHeightUMm", "0.5 mm", "uncertainty of setting the pivot's height (chosen, not derived)"));
        Angle learnt = rig.LearntCorrection?.Value ?? Angle.Zero;
        GuidedRodMap map = new(face);
        List<ClampChannel> channels = [.. context.Sides.Select(s => new ClampChannel(SettingPlanner.Word(s.Side), map, s.Angle - learnt)
        {
            Side = s.Side,
            LeastSettingMm = context.Wish.SettingMm is null ? rig.PivotHeightMm.Least : null,
            MostSettingMm = context.Wish.SettingMm is null ? rig.PivotHeightMm.Most : null,
        })];
        bool alike = blade.Bend is null && channels.Count == 2 && channels[0].Target == channels[1].Target;
        IReadOnlyList<Clamp> clamps = ClampPlanning.Clamps(
            context, alike ? [channels[0]] : channels, rig.Box!, rig.JawToPivotMm, null, refusals, cancellationToken);
        List<PlannedClamp> planned = [];
        PropagatedUncertainty? least = null;
        foreach (Clamp clamp in clamps)
        {
            EdgePoint middle = ClampPlanning.Middle(clamp);
            double support = middle.SupportDistanceMm(clamp.Pivot);
            List<DialledSetting> settings = [];
            for (int i = 0; i < context.Sides.Count; i++)
            {
                ClampSetting found = clamp.Settings[alike ? 0 : i];
                PropagatedUncertainty u = SettingUncertainty.GuidedRod(
                    found.SettingMm, HeightUMm, support, context.SupportUMm, face, faceU, rig.LearntCorrection);
                if (least is null || u.Uncertainty > least.Uncertainty)
                    least = u;
                settings.Add(new RodSetting
                {
                    Side = context.Sides[i].Side,
                    Wanted = context.Sides[i].Angle,
                    WorstDeg = found.WorstDeg,
                    AnglesDeg = [.. found.AnglesDeg.Select(a => a + learnt.Degrees)],
                    UDeg = u.Uncertainty,
                    PivotHeightMm = found.SettingMm,
                    ChangeMm = rig.NowPivotHeightMm is { } now ? found.SettingMm - now : null,
                });
            }

            JawPlacement jaw = JawPlacement.Of(blade, clamp.Pivot, rig.JawToPivotMm ?? 0, null);
            ClearanceVerdict? clears = rig.JawToPivotMm is null ? null : ClampPlanning.Clearance(
                context, clamp, jaw, rig.JawHalfThicknessMm, context.Sides.Select(s => ((s.Angle - learnt).Radians, (double?)null)));
            if (clears?.Why(context.Sides.Min(s => s.Angle).Degrees) is { } touches)
                refusals.Add(touches);
            planned.Add(new()
            {
                FromMm = clamp.Problem.ScoreFromMm,
                ToMm = clamp.Problem.ScoreToMm,
                Pivot = clamp.Pivot,
                Jaw = jaw,
                WorstDeg = clamp.WorstDeg,
                BoundDeg = clamp.BoundDeg,
                Angles = ClampPlanning.Angles(clamp, learnt),
                Settings = settings,
                Clears = clears,
                Search = clamp,
                TouchOff = new(middle.SMm, "from the edge to the point under the pivot, along the blade and square to the edge", support),
            });
        }

        Derivation? flex = null;
        double? force = planned.Count > 0 && rig.JawToPivotMm is not null
            ? ClampPlanning.HandForce(context, planned.Max(c => c.Jaw!.ProtrusionMm), out flex)
            : null;
        return new()
        {
            Refusals = refusals,
            Clamps = planned,
            UDeg = least?.Uncertainty,
            Budget = least?.Budget ?? [],
            MeasureNext = least is null ? [] : SettingUncertainty.MeasureNext(least),
            HandForceN = force,
            Chain = () => Explain(planned, face, flex),
        };
    }

    private static List<Derivation> Explain(List<PlannedClamp> planned, double face, Derivation? flex)
    {
        List<Derivation> chain = [];
        foreach (PlannedClamp clamp in planned)
        {
            chain.AddRange(clamp.Search!.Explain());
            double support = ClampPlanning.Middle(clamp.Search!).SupportDistanceMm(clamp.Pivot!.Value);
            foreach (RodSetting setting in clamp.Settings.OfType<RodSetting>())
                chain.Add(GuidedRod.ExplainHeight(GuidedRod.AngleRad(setting.PivotHeightMm, support, face), support, face));
        }

        if (flex is not null)
            chain.Add(flex);
        return chain;
    }
}
