using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// From a piece, a rig and a wish to what to dial: the best clamp (or the one given), each setting with its change from how the rig stands now, what it
/// will grind along the edge and how sure that is. A piece that cannot be ground so is refused in words.
/// </summary>
public static class SettingPlanner
{
    /// <summary>Makes the plan. Never throws for numbers a person typed: they come back as <see cref="SettingPlan.Refusals"/>.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static SettingPlan Plan(Blade blade, Rig rig, SettingWish wish, CancellationToken cancellationToken = default)
    {
        List<Reason> refusals = [.. blade.Refusals(), .. rig.Refusals()];
        List<Reason> notes = [];
        List<DefaultUsed> defaults = [.. rig.Defaults];
        IReadOnlyList<WantedSide> sides = Sides(blade, wish, refusals, notes, defaults);
        CheckWish(blade, rig, wish, refusals);
        if (wish.Tolerance is null)
            defaults.Add(new("toleranceDeg", "0.5°", "how far the angle may stray before a second clamp is looked for (chosen, not derived)"));
        if (refusals.Count > 0)
            return new() { Refusals = refusals, Notes = notes, Defaults = defaults };
        PlanContext context = new(blade, rig, wish, sides, notes, defaults);
        SettingPlan plan = rig switch
        {
            WheelAndBarRig wheel => new WheelPlanner(context, wheel).Plan(cancellationToken),
            GuidedRodRig rod => new RodPlanner(context, rod).Plan(cancellationToken),
            BenchStoneRig stone => new StonePlanner(context, stone).Plan(cancellationToken),
            DialRig dial => MarkPlanner.Dial(context, dial),
            SlackBeltRig => MarkPlanner.Belt(context),
            _ => throw new ArgumentOutOfRangeException(nameof(rig), rig.Kind, "Not a kind of rig."),
        };
        return plan with { Notes = [.. notes.Distinct()], Defaults = [.. defaults.Distinct()] };
    }

    private static List<WantedSide> Sides(Blade blade, SettingWish wish, List<Reason> refusals, List<Reason> notes, List<DefaultUsed> defaults)
    {
        List<WantedSide> sides = [];
        if (blade.Kind.GroundSides() == 1)
        {
            Side bevel = blade.Hand ?? Side.Right;
            if (blade.Hand is null)
                defaults.Add(new("hand", "right", "the bevel is taken to be on the blade's right"));
            Angle? back = wish.For(bevel.Other());
            if (back is not null && wish.For(bevel) is null)
            {
                refusals.Add(new("back-is-not-ground", $"The {Word(bevel.Other())} of this piece is its back, the reference for its angle: it is never ground to an angle, only laid flat to take the burr off. Ask for the {Word(bevel)}."));
                return sides;
            }

            if (back is not null)
                notes.Add(new("back-is-not-ground", $"Only the {Word(bevel)} is ground; the back is laid flat to take the burr off, no more."));
            if (wish.For(bevel) is { } angle)
                sides.Add(new(bevel, angle));
            if (blade.Reference == AngleReference.Back)
                notes.Add(new("from-the-back", "Angles are from the back, so offsetMm counts from the back's plane; a jaw that centres on the flanks shifts and tilts that plane: measure offset and tilt on the clamped piece."));
        }
        else
        {
            foreach (Side side in (Side[])[Side.Left, Side.Right])
            {
                if (wish.For(side) is { } angle)
                    sides.Add(new(side, angle));
            }
        }

        if (blade.Kind == PieceKind.Convex)
            notes.Add(new("convex", "A convex edge has a range of angles; the setting is for the apex, and the rest is blended by rolling the blade."));
        if (blade.Kind == PieceKind.Serrated)
            notes.Add(new("serrated", "The setting is for the bevelled side along the line of the points; the scallops need a rod or a shaped wheel of their radius or smaller."));
        if (sides.Count == 0)
            refusals.Add(new("no-angle", "angleDeg is not given for any side that is ground; say the angle wanted, per side."));
        foreach (WantedSide side in sides)
        {
            if (!(side.Angle.Degrees is > 0 and <= 60))
                refusals.Add(new("target-angle", $"angleDeg is {side.Angle} on the {Word(side.Side)}; it should be above 0 and at most 60, per side."));
            else if (blade.PrimaryHalf is { } half && blade.Reference == AngleReference.MidPlane && side.Angle <= half)
                refusals.Add(new("flatter-than-flank", $"{side.Angle} on the {Word(side.Side)} is no steeper than the flank itself ({half}): the facet would run up the whole flank. Ask for more, or thin the blade first."));
        }

        return sides;
    }

    private static void CheckWish(Blade blade, Rig rig, SettingWish wish, List<Reason> refusals)
    {
        if (wish.Tolerance is { } tolerance && !(tolerance.Degrees is > 0 and <= 20))
            refusals.Add(new("tolerance", $"toleranceDeg is {tolerance}; it should be above 0 and at most 20."));
        if (wish.ScoreMm is { } score && !(score.FromMm >= 0 && score.ToMm - score.FromMm >= 1 && score.ToMm <= blade.Edge.LengthMm + 0.05))
        {
            refusals.Add(new("score-range", FormattableString.Invariant(
                $"scoreMm is [{score.FromMm}, {score.ToMm}]; it should run from 0 at the heel to at most {blade.Edge.LengthMm:0.##} (the edge's length), over at least 1 mm.")));
        }

        if (wish.PivotMm is { } pivot && !(double.IsFinite(pivot.X) && pivot.Y is < 0 and > -5000))
            refusals.Add(new("pivot", FormattableString.Invariant($"pivotMm is [{pivot.X}, {pivot.Y}]; x must be finite and y below 0, behind the edge.")));
        if (wish.SettingMm is { } setting && !(double.IsFinite(setting) && setting > 0))
            refusals.Add(new("setting", FormattableString.Invariant($"settingMm is {setting}; it should be above 0.")));
        if (wish.SettingMm is not null && wish.PivotMm is null)
            refusals.Add(new("setting", "settingMm is given without pivotMm; a setting says nothing until it is known where the blade is clamped."));
        if (wish.Wheel is { } name && rig is WheelAndBarRig wheels && wheels.Wheels.All(w => w.Name != name))
            refusals.Add(new("wheel", $"wheel is '{name}'; it should be one of {string.Join(", ", wheels.Wheels.Select(w => w.Name))}."));
        if (rig is DialRig or SlackBeltRig && wish.PivotMm is not null)
            refusals.Add(new("pivot", $"pivotMm is given, but a rig of kind {rig.Kind} has no pivot to place."));
    }

    internal static string Word(Side side) => side == Side.Left ? "left" : "right";
}

/// <summary>A side to be ground.</summary>
internal readonly record struct WantedSide(Side Side, Angle Angle);

/// <summary>What every planner works on; notes and defaults grow as it goes.</summary>
internal sealed record PlanContext(
    Blade Blade, Rig Rig, SettingWish Wish, IReadOnlyList<WantedSide> Sides, List<Reason> Notes, List<DefaultUsed> Defaults)
{
    /// <summary>Uncertainty of the support distance in effect, mm.</summary>
    public double SupportUMm => Rig.SupportUMm ?? Rig.UsualSupportUMm;
}
