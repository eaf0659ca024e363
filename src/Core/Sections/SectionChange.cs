using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>
/// From the section of an edge as found to the section wanted: recession, facets, steel, height, growth, and the polygons to draw.
/// The new facets start at the new apex, which lies on the mid-plane (on the back for a piece with one), a recession r over the old
/// virtual apex; what is left is the old section cut by both. Leaves out: the curve of the edge along its length (areas are taken as
/// the same over the whole length), rounding of the shoulder, and the hollow of a back, which touches at its rim.
/// </summary>
public static class SectionChange
{
    /// <summary>Computes the change, or says why there is none.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A field is no number, negative or out of its range; it is named.</exception>
    public static SectionOutcome Evaluate(SectionInput input)
    {
        input.Validate();
        var wedge = new SectionWedge(input);
        IReadOnlyList<Reason> contradictions = wedge.Contradictions();
        if (contradictions.Count > 0)
            return new SectionOutcome.Refused(contradictions);
        RecessionChoice choice = RecessionChoice.Of(wedge);
        if (choice.Refusals.Count > 0)
            return new SectionOutcome.Refused(choice.Refusals);

        double lost = Math.Max(0, choice.RecessionMm - wedge.LandHeightMm);
        if (input.HeightMm is { } height && lost >= height)
            return Refuse("deeper-than-blade", $"The apex would go back {lost:0.###} mm; the blade is only heightMm = {height} high. Measure again, or decline the piece.");
        if (input.HeightMm is null && lost > SectionDefaults.DeepestWithoutHeightMm)
            return Refuse("too-deep", $"The apex would go back {lost:0.###} mm, more than the {SectionDefaults.DeepestWithoutHeightMm} mm that are taken for sharpening where heightMm is not given (chosen, not derived). That is a new profile: use reshape; or give heightMm.");
        double top = TopMm(wedge, choice.RecessionMm);
        SideProfile left = Profile(wedge, Side.Left, choice.RecessionMm, top), right = Profile(wedge, Side.Right, choice.RecessionMm, top);
        foreach (Side side in wedge.GroundSides)
        {
            SideProfile profile = side == Side.Left ? left : right;
            string name = side == Side.Left ? "left" : "right";
            if (profile.FacetEndMm > profile.StartMm && profile.FacetEndMm - choice.RecessionMm > profile.New.ReachMm)
                return Refuse("new-radius-too-small", $"With newRadiusMm = {input.NewRadiusMm} the {name} facet turns over before it meets the flank. Use a larger wheel or a flatter facet.");
            if (profile.NeverEnds)
                return Refuse("facet-never-meets-flank", $"The {name} facet, {input.New[side]}° at the apex with newRadiusMm = {input.NewRadiusMm}, never meets the flank. Use a flatter curve or a steeper angle.");
            if (input.HeightMm is { } h && profile.FacetEndMm - wedge.LandHeightMm > h)
                return Refuse("shoulder-above-spine", $"The {name} facet would climb {profile.FacetEndMm - wedge.LandHeightMm:0.##} mm, past the spine at heightMm = {h}. Take a steeper angle.");
            if (input.HeightMm is null && profile.FacetWidthMm > SectionDefaults.WidestFacetWithoutHeightMm)
                return Refuse("facet-too-wide", $"The {name} facet at new.{name}Deg = {input.New[side]} would be {profile.FacetWidthMm:0.#} mm wide, more than the {SectionDefaults.WidestFacetWithoutHeightMm} mm that a flank is taken to have where heightMm is not given (chosen, not derived). Take a steeper angle, thin the flanks first, or give heightMm.");
        }
        return new SectionOutcome.Computed(Compose(wedge, choice, left, right, lost));
    }

    private static SectionOutcome.Refused Refuse(string code, FormattableString text) =>
        new([new Reason(code, text.ToString(CultureInfo.InvariantCulture))]);

    private static SideProfile Profile(SectionWedge wedge, Side side, double recessionMm, double topMm) => new(
        wedge.Old(side), wedge.ShoulderMm, wedge.FlankRad(side), wedge.LandHeightMm, wedge.New(side), recessionMm, topMm);

    /// <summary>A height safely over both shoulders: that of flat facets, and for a convex one its whole reach.</summary>
    private static double TopMm(SectionWedge wedge, double recessionMm)
    {
        double top = Math.Max(wedge.ShoulderMm, recessionMm);
        foreach (Side side in wedge.GroundSides)
        {
            FacetCurve made = wedge.New(side);
            double flat = SectionFormulas.FlankShoulderMm(
                wedge.ShoulderMm, Math.Atan(wedge.Old(side).HalfMm(wedge.ShoulderMm) / wedge.ShoulderMm), wedge.FlankRad(side), made.AngleRad, recessionMm);
            top = Math.Max(top, made.RadiusMm < 0 ? Math.Max(flat, recessionMm + made.ReachMm) : flat);
        }
        return (top * 1.02) + (0.5 * wedge.ShoulderMm);
    }

    private static SectionResult Compose(SectionWedge wedge, RecessionChoice choice, SideProfile left, SideProfile right, double lostMm)
    {
        SectionInput input = wedge.Input;
        SectionSide leftSide = Describe(left), rightSide = Describe(right);
        double removedMm3 = (leftSide.RemovedMm2 + rightSide.RemovedMm2) * input.LengthMm;
        double behind = HalfAtShoulder(left, leftSide) + HalfAtShoulder(right, rightSide);
        double land = left.RecessionMm >= left.LandHeightMm ? 0 : left.LeftHalfMm(left.LandHeightMm) + right.LeftHalfMm(right.LandHeightMm);
        ThicknessGrowth growth = Growth(wedge, leftSide, rightSide);
        int? visits = Visits(input, behind, growth.Shoulder);
        return new SectionResult(
            input, choice.RecessionMm, choice.Cause, wedge.LandHeightMm, choice.FullRecessionMm, leftSide, rightSide,
            removedMm3, removedMm3 * (input.DensityMgPerMm3 ?? SectionDefaults.SteelDensityMgPerMm3),
            land, behind, lostMm, input.HeightMm - lostMm, growth, visits,
            SectionDrawing.Draw(left, right), SectionNotes.Of(wedge, choice, left, right, leftSide, rightSide, land, behind));
    }

    private static SectionSide Describe(SideProfile profile)
    {
        double end = profile.FacetEndMm, shoulder = Math.Max(end, profile.ShoulderMm);
        double width = profile.FacetWidthMm;
        double oldLeft = end >= profile.ShoulderMm ? 0 : Chord(profile.OldHalfMm, Math.Max(end, profile.StartMm), profile.ShoulderMm);
        double top = end > profile.StartMm ? end : profile.ShoulderMm;
        double shoulderRad = profile.New.TangentRad(top - profile.RecessionMm);
        double chordRad = Math.Atan2(profile.NewHalfMm(top) - profile.NewHalfMm(profile.StartMm), top - profile.StartMm);
        double sagitta = profile.New.IsFlat || width == 0
            ? 0
            : Math.Sign(profile.New.RadiusMm) * SectionFormulas.SagittaMm(Math.Abs(profile.New.RadiusMm), width);
        return new SectionSide(
            width,
            profile.Old.AngleRad == 0 ? 0 : Chord(profile.OldHalfMm, profile.LandHeightMm, profile.ShoulderMm),
            profile.Old.AngleRad == 0 ? 0 : oldLeft,
            profile.RemovedMm2,
            shoulder,
            double.RadiansToDegrees(shoulderRad),
            double.RadiansToDegrees(profile.New.IsFlat ? profile.New.AngleRad : chordRad),
            sagitta);
    }

    private static double Chord(Func<double, double> half, double from, double to)
    {
        double dx = half(to) - half(from), dy = to - from;
        return dy <= 0 ? 0 : Math.Sqrt((dx * dx) + (dy * dy));
    }

    private static double HalfAtShoulder(SideProfile profile, SectionSide side) => profile.LeftHalfMm(side.ShoulderMm);

    private static ThicknessGrowth Growth(SectionWedge wedge, SectionSide left, SectionSide right)
    {
        double fixedHeight = 0, shoulder = 0;
        foreach (Side side in wedge.GroundSides)
        {
            // The facet that meets the flank rules: the new one where it reaches up there, else the old one that stays above a micro-bevel.
            SectionSide described = side == Side.Left ? left : right;
            double facet = described.OldFacetLeftMm <= 0
                ? double.DegreesToRadians(described.ShoulderDeg)
                : wedge.Old(side).TangentRad(wedge.ShoulderMm);
            fixedHeight += SectionFormulas.GrowthAtFixedHeight(wedge.FlankRad(side));
            shoulder += SectionFormulas.GrowthAtShoulder(wedge.FlankRad(side), facet);
        }
        return new ThicknessGrowth(fixedHeight, shoulder);
    }

    private static int? Visits(SectionInput input, double behindMm, double growth)
    {
        double perVisit = growth * (input.VisitRecessionMm ?? SectionDefaults.VisitRecessionMm);
        double room = (input.ThinningLimitMm ?? SectionDefaults.ThinningLimitMm) - behindMm;
        if (perVisit <= 0)
            return null;
        return room < 0 ? 0 : (int)Math.Min(10_000, Math.Floor((room / perVisit) + 1e-9));
    }
}
