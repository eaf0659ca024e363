using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>The old wedge: its facets as curves, its flanks, and where its shoulder and land lie over the virtual apex.</summary>
internal sealed class SectionWedge
{
    public SectionWedge(SectionInput input)
    {
        Input = input;
        OldLeft = FacetCurve.From(input.Old.LeftDeg, input.OldRadiusMm);
        OldRight = FacetCurve.From(input.Old.RightDeg, input.OldRadiusMm);
        NewLeft = FacetCurve.From(input.New.LeftDeg, input.NewRadiusMm);
        NewRight = FacetCurve.From(input.New.RightDeg, input.NewRadiusMm);
        ShoulderMm = HeightOfThickness(input.BehindEdgeMm);
        LandHeightMm = HeightOfThickness(input.LandMm);
    }

    public SectionInput Input { get; }
    public FacetCurve OldLeft { get; }
    public FacetCurve OldRight { get; }
    public FacetCurve NewLeft { get; }
    public FacetCurve NewRight { get; }

    /// <summary>b₀, or infinity where curved facets never grow that thick.</summary>
    public double ShoulderMm { get; }

    /// <summary>Height at which the land lies.</summary>
    public double LandHeightMm { get; }

    public FacetCurve Old(Side side) => side == Side.Left ? OldLeft : OldRight;

    public FacetCurve New(Side side) => side == Side.Left ? NewLeft : NewRight;

    public double FlankRad(Side side)
    {
        double half = double.DegreesToRadians(Input.PrimaryHalfDeg);
        return Input.Back is not { } back ? half : back == side ? 0 : 2 * half;
    }

    /// <summary>The sides that are ground.</summary>
    public IEnumerable<Side> GroundSides => Input.Back is { } back ? [back.Other()] : [Side.Left, Side.Right];

    /// <summary>Why this wedge, or this change of it, cannot be; empty where it can.</summary>
    public IReadOnlyList<Reason> Contradictions()
    {
        var reasons = new List<Reason>();
        foreach (Side side in GroundSides)
        {
            string name = side == Side.Left ? "left" : "right";
            double flank = double.RadiansToDegrees(FlankRad(side));
            AddIfFlat(reasons, $"old.{name}Deg", Input.Old[side], flank);
            AddIfFlat(reasons, $"new.{name}Deg", Input.New[side], flank);
        }
        if (double.IsInfinity(ShoulderMm))
            reasons.Add(new Reason("old-radius-too-small", Text(
                $"An old facet of radius {Input.OldRadiusMm} mm turns over before the blade is behindEdgeMm = {Input.BehindEdgeMm} mm thick. Measure the radius or the thickness again.")));
        if (Input.LandMm >= Input.BehindEdgeMm)
            reasons.Add(new Reason("land-wider-than-edge", Text(
                $"The land, landMm = {Input.LandMm}, is as wide as the edge is thick behind it, behindEdgeMm = {Input.BehindEdgeMm}: no facet is left. Measure both again; it needs a new edge, not a touch.")));
        else if (Input.LandMm > SectionDefaults.WidestLandMm)
            reasons.Add(new Reason("land-too-wide", Text(
                $"landMm = {Input.LandMm} is no dull apex: at most {SectionDefaults.WidestLandMm} mm is taken for one (chosen, not derived). Measure the blunt strip across, in millimetres; a flat that wide is a new profile: use reshape.")));
        AddIfDeep(reasons, "chip", "chipMm", Input.ChipMm);
        AddIfDeep(reasons, "blued steel", "bluedDepthMm", Input.BluedDepthMm);
        if (Input.RecessionMm is { } recession)
            AddIfDeep(reasons, "recession", "recessionMm", recession - (double.IsInfinity(LandHeightMm) ? 0 : LandHeightMm));
        return reasons;
    }

    private static void AddIfFlat(List<Reason> reasons, string field, double facetDeg, double flankDeg)
    {
        if (facetDeg <= flankDeg + 1e-9)
            reasons.Add(new Reason("facet-flatter-than-flank", Text(
                $"{field} = {facetDeg}° is not steeper than the flank, {flankDeg:0.##}°: the facet would run up the whole side. Take more than {flankDeg:0.##}°, or thin the flanks first.")));
    }

    /// <summary>As deep as the blade is high, or, where its height is not known, deeper than a limit of our own: see <see cref="SectionDefaults.DeepestWithoutHeightMm"/>.</summary>
    internal static Reason? TooDeep(string what, string field, double depthMm, double? heightMm)
    {
        if (heightMm is { } height)
        {
            return depthMm < height ? null : new Reason("deeper-than-blade", Text(
                $"The {what}, {field} = {depthMm:0.###}, is as deep as the blade is high, heightMm = {height}. Measure again, or decline the piece."));
        }
        return depthMm <= SectionDefaults.DeepestWithoutHeightMm ? null : new Reason("too-deep", Text(
            $"The {what}, {field} = {depthMm:0.###}, is more than the {SectionDefaults.DeepestWithoutHeightMm} mm that are taken for sharpening where heightMm is not given (chosen, not derived). A notch that deep is a new profile: use reshape; or check that the value is in millimetres and give heightMm."));
    }

    private void AddIfDeep(List<Reason> reasons, string what, string field, double depthMm)
    {
        if (TooDeep(what, field, depthMm, Input.HeightMm) is { } reason)
            reasons.Add(reason);
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private double HeightOfThickness(double thicknessMm)
    {
        double tangents = Math.Tan(OldLeft.AngleRad) + Math.Tan(OldRight.AngleRad);
        if (OldLeft.IsFlat && OldRight.IsFlat)
            return thicknessMm / tangents;
        double high = Math.Min(OldLeft.ReachMm, OldRight.ReachMm);
        if (OldLeft.HalfMm(high) + OldRight.HalfMm(high) < thicknessMm)
            return double.PositiveInfinity;
        double low = 0;
        for (int i = 0; i < 200; i++)
        {
            double middle = low + ((high - low) / 2);
            if (middle <= low || middle >= high)
                break;
            if (OldLeft.HalfMm(middle) + OldRight.HalfMm(middle) < thicknessMm)
                low = middle;
            else
                high = middle;
        }
        return high;
    }
}
