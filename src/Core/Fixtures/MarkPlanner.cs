using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>Settings of a dial or fixed guide, and of a slack belt: a mark, the same along the whole edge.</summary>
internal static class MarkPlanner
{
    /// <summary>Stations shown (the angle is the same at all of them).</summary>
    private const int Stations = 51;

    public static SettingPlan Dial(PlanContext context, DialRig rig)
    {
        Angle learnt = rig.LearntCorrection?.Value ?? Angle.Zero;
        double mark = (rig.MarkU ?? Angle.FromDegrees(0.5)).Degrees;
        double known = rig.LearntCorrection?.StandardUncertainty.Degrees ?? 1;
        if (rig.LearntCorrection is null)
            context.Defaults.Add(new("learntUDeg", "1°", "how far an unread guide may be off (chosen, not derived)"));
        PropagatedUncertainty u = Propagation.FirstOrder(
            x => x[0] + x[1],
            [new("m", "the mark", (context.Sides[0].Angle - learnt).Degrees, mark, "deg"), new("e", "learnt correction", learnt.Degrees, known, "deg")]);
        context.Notes.Add(new("guide-holds", "The guide is taken to hold its angle along the whole edge; where the blade turns in it, at belly and tip, it does not, and how far is not known."));
        foreach (WantedSide side in context.Sides)
        {
            if (!(DialGuide.Marked(side.Angle, learnt).Degrees > 0))
            {
                return new()
                {
                    Refusals = [new("no-such-mark", $"{side.Angle} would need the mark {DialGuide.Marked(side.Angle, learnt)}; the guide grinds {learnt} more than its marks say.")],
                };
            }
        }

        return Plan(context, learnt, u.Uncertainty, 0) with
        {
            UDeg = u.Uncertainty,
            Budget = u.Budget,
            MeasureNext = SettingUncertainty.MeasureNext(u),
            Chain = () => [.. context.Sides.Select(s => DialGuide.Explain(s.Angle, learnt, rig.LearntCorrection is null))],
        };
    }

    public static SettingPlan Belt(PlanContext context)
    {
        foreach (WantedSide side in context.Sides)
            context.Notes.Add(SlackBelt.OnlyEntryAngle(side.Angle));
        return Plan(context, Angle.Zero, null, null) with
        {
            Cautions = [new("turning-belt", "Edge trailing, eyes protected, no gloves or loose sleeves near the belt. The maker's instructions and local rules decide.")],
        };
    }

    /// <summary>
    /// The bound is 0 for a guide that is taken to hold its angle: no clamp can stray less. A slack belt has none: what it grinds at the apex is not known.
    /// </summary>
    private static SettingPlan Plan(PlanContext context, Angle learnt, double? u, double? bound)
    {
        double length = context.Blade.Edge.LengthMm;
        (double from, double to) = context.Wish.ScoreMm ?? (0, length);
        WantedSide first = context.Sides[0];
        return new()
        {
            Clamps =
            [
                new()
                {
                    FromMm = from,
                    ToMm = to,
                    WorstDeg = 0,
                    BoundDeg = bound,
                    Angles = [.. Enumerable.Range(0, Stations).Select(i => new AngleAlongEdge(length * i / (Stations - 1), first.Angle.Degrees))],
                    Settings =
                    [
                        .. context.Sides.Select(s => new MarkSetting
                        {
                            Side = s.Side,
                            Wanted = s.Angle,
                            WorstDeg = 0,
                            AnglesDeg = [.. Enumerable.Repeat(s.Angle.Degrees, Stations)],
                            UDeg = u,
                            Marked = DialGuide.Marked(s.Angle, learnt),
                        }),
                    ],
                },
            ],
        };
    }
}
