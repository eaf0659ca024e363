using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>The part that every rig with a pivot shares: the clamp searched for or given, and what goes with it.</summary>
internal static class ClampPlanning
{
    /// <summary>The clamps; empty with refusals where there are none. The box is narrowed to what the jaw can hold only where the best of the whole box could not be held.</summary>
    public static IReadOnlyList<Clamp> Clamps(
        PlanContext context, IReadOnlyList<ClampChannel> channels, PivotBox box, double? jawToPivotMm, double? jawDepthMm,
        List<Reason> refusals, CancellationToken cancellationToken)
    {
        int notesBefore = context.Notes.Count;
        IReadOnlyList<Clamp> clamps = Search(context, channels, box, refusals, cancellationToken);
        if (clamps.Count == 0 || context.Wish.PivotMm is not null || jawToPivotMm is not { } jaw)
            return clamps;
        if (clamps.All(c => JawPlacement.Of(context.Blade, c.Pivot, jaw, jawDepthMm).CannotHold(context.Blade, jawDepthMm) is null))
            return clamps;
        (double least, double most) = JawPlacement.Reach(context.Blade, jaw, jawDepthMm);
        PivotBox narrow = box with
        {
            LeastDistanceMm = Math.Max(box.LeastDistanceMm, least),
            MostDistanceMm = Math.Min(box.MostDistanceMm, most),
        };
        if (narrow.LeastDistanceMm > narrow.MostDistanceMm)
        {
            refusals.Add(new("jaw-cannot-hold", FormattableString.Invariant(
                $"With jawToPivotMm {jaw:0.#} the jaw reaches this blade only with the pivot {least:0.#} to {most:0.#} mm behind the edge, but pivotDistanceMm is [{box.LeastDistanceMm:0.#}, {box.MostDistanceMm:0.#}]. Use another holder, or correct the two.")));
            return clamps;
        }

        context.Notes.RemoveRange(notesBefore, context.Notes.Count - notesBefore);
        context.Notes.Add(new("box-narrowed", FormattableString.Invariant(
            $"The pivot is kept {narrow.LeastDistanceMm:0.#} to {narrow.MostDistanceMm:0.#} mm behind the edge, where the jaw can hold this blade.")));
        return Search(context, channels, narrow, refusals, cancellationToken);
    }

    private static IReadOnlyList<Clamp> Search(
        PlanContext context, IReadOnlyList<ClampChannel> channels, PivotBox box, List<Reason> refusals, CancellationToken cancellationToken)
    {
        if (ClampProblem.TryMake(context.Blade, channels, box, out IReadOnlyList<Reason> why, context.Wish.ScoreMm) is not { } problem)
        {
            refusals.AddRange(why);
            return [];
        }

        if (context.Wish.PivotMm is { } pivot)
        {
            ClampOutcome outcome = context.Wish.SettingMm is { } setting
                ? ClampSearch.Evaluate(problem, pivot, [.. channels.Select(_ => setting)])
                : ClampSearch.Evaluate(problem, pivot);
            if (outcome is ClampOutcome.Found found)
            {
                if (found.Clamp.WorstDeg > context.Wish.ToleranceInEffect.Degrees)
                    context.Notes.Add(new("beyond-tolerance", FormattableString.Invariant($"The given clamp is off by up to {found.Clamp.WorstDeg:0.00}°, more than the {context.Wish.ToleranceInEffect} asked.")));
                return [found.Clamp];
            }

            refusals.AddRange(((ClampOutcome.Refused)outcome).Reasons);
            return [];
        }

        if (ClampPlan.TryMake(problem, context.Wish.ToleranceInEffect, out why, cancellationToken) is not { } plan)
        {
            refusals.AddRange(why);
            return [];
        }

        if (plan.Note is { } note)
            context.Notes.Add(note);
        return plan.Clamps;
    }

    /// <summary>The stations that count.</summary>
    public static IEnumerable<EdgePoint> Scored(Clamp clamp) =>
        clamp.Problem.Stations.Skip(clamp.Problem.FirstScored).Take(clamp.Problem.LastScored - clamp.Problem.FirstScored + 1);

    /// <summary>The middle station of those that count: the nominal one, for uncertainty and drawings.</summary>
    public static EdgePoint Middle(Clamp clamp) => clamp.Problem.Stations[(clamp.Problem.FirstScored + clamp.Problem.LastScored) / 2];

    /// <summary>Angles of the setting that strays most, with the learnt correction.</summary>
    public static IReadOnlyList<AngleAlongEdge> Angles(Clamp clamp, Angle learnt)
    {
        ClampSetting worst = clamp.Settings.MaxBy(s => s.WorstDeg)!;
        return [.. clamp.Problem.Stations.Select((s, i) => new AngleAlongEdge(s.SMm, worst.AnglesDeg[i] + learnt.Degrees))];
    }

    /// <summary>The clearance of one clamp over its settings; null where the jaw is not described.</summary>
    public static ClearanceVerdict? Clearance(
        PlanContext context, Clamp clamp, JawPlacement jaw, double? jawHalfThicknessMm, IEnumerable<(double AngleRad, double? WheelRadiusMm)> poses)
    {
        if (jawHalfThicknessMm is not { } half)
            return null;
        List<Obstacle> obstacles = [new("jaw", Math.Max(0, jaw.LeastBehindMm(Scored(clamp))), half)];
        if (context.Blade.Spine is { } spine && context.Blade.Height is { } height)
            obstacles.Add(new("spine", height.Millimetres, spine.Millimetres / 2));
        if (context.Blade.HandleFrom is { Millimetres: var from } && from > clamp.Problem.ScoreFromMm)
        {
            obstacles.Add(new("handle", HandleBehindMm, HandleHalfMm));
            context.Defaults.Add(new("handle", "10 mm half-thick, 10 mm behind the edge", "the handle reaches over the edge; its own size is not known (chosen, not derived)"));
        }

        ClearanceVerdict? worst = null;
        double margin = double.PositiveInfinity;
        foreach ((double angle, double? radius) in poses)
        {
            ClearanceVerdict verdict = Fixtures.Clearance.Check(angle, obstacles, radius);
            double here = double.RadiansToDegrees(angle) - verdict.SmallestDeg;
            if (here < margin)
                (worst, margin) = (verdict, here);
        }

        return worst;
    }

    private const double HandleBehindMm = 10;

    private const double HandleHalfMm = 10;

    /// <summary>Hand force that keeps the tolerance; null with a note where something it needs is not known.</summary>
    public static double? HandForce(PlanContext context, double freeLengthMm, out Derivation? derivation)
    {
        derivation = null;
        if (context.Blade.BehindEdge is not { Millimetres: > 0 } behind || context.Blade.PrimaryHalf is not { } half)
        {
            context.Notes.Add(Blade.Missing(context.Blade.BehindEdge is null ? "behindEdgeMm" : "primaryHalfDeg", "the hand force that keeps the tolerance"));
            return null;
        }

        TaperedBlade taper = new(freeLengthMm, behind.Millimetres, half.Radians, context.Blade.Spine?.Millimetres ?? double.PositiveInfinity, UsualContactWidthMm);
        context.Defaults.Add(new("contactWidthMm", "20 mm", "width of abrasive under load, for the flex estimate (chosen, not derived)"));
        derivation = Flex.Explain(taper, context.Wish.ToleranceInEffect);
        return derivation.Value;
    }

    private const double UsualContactWidthMm = 20;
}
