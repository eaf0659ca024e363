using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the spine's line under the light that was found along the edge of the same blade: no bevel, so that a band beside the steel is a shadow or the spine's own
/// wall; lamps that shade this side are sought anew. The outline there lies on a shadow's rim as often as on steel.
/// </summary>
internal sealed class LitSpine(PhotoSampler sampler, LensMap map, double sigmaPx, MatCamera camera, RefinedOutline outline, SmoothEdge edge, bool lifted, double? spineMm = null)
{
    /// <summary>The spine's course is taken every so far from the outline within this, mm. Chosen: wider than a shadow's corner, narrow against a bow.</summary>
    private const double EveryMm = 2, WindowMm = 12;

    /// <summary>The spine's course begins this far from the heel and ends so far before the tip, mm. Chosen.</summary>
    private const double FromHeelMm = 1, ToTipMm = 4;

    /// <summary>Sections lie at least this far apart, and about so many are looked at. Chosen: a spine bends slowly.</summary>
    private const double SectionMm = 4;
    private const int Sections = 24;

    private const int FewestSections = 4;

    /// <summary>A spine nearer the edge than this shows the edge's own light, mm. Chosen.</summary>
    private const double NarrowestMm = 7;

    /// <summary>How far the line is taken beyond the first and last section, and how far from the course an outline is another thing, mm. Chosen.</summary>
    private const double BeyondMm = 4, ElseMm = 2;

    /// <summary>How well a spine's height is known from the edge's: on the mat, and lifted by a handle. Chosen.</summary>
    private const double FlatUMm = 0.3, LiftedUMm = 0.5;

    /// <summary>Further inside than this is near the end of what the sections show: they are drawn anew around the line found. Chosen.</summary>
    private const double FarMm = 0.8;

    /// <summary>What an outline is good to along a spine that no light was found for. Chosen, from photographs of known truth.</summary>
    private const double UnlitUMm = 0.4;

    /// <summary>Leans of lamps behind whose shadows the spine is supposed to lie when the search begins, no deeper than this. Chosen.</summary>
    private static readonly double[] s_leans = [0.25, 0.5, 0.9];

    private const double DeepestMm = 2.5;

    /// <summary>The outline with the spine's line drawn in; the outline as it was where there is too little of it.</summary>
    /// <param name="light">Along the edge; null where there is none.</param>
    public SeenSpine Of(EdgeLight? light)
    {
        if (light is null || Course() is not { } course || Fit(course, light, null) is not { } first)
            return new(outline.Points, UnlitUMm, null);
        (Line line, double doubt, EdgeLight found, double[] inward) = first;
        if (inward.Order().ElementAt((int)(0.9 * inward.Length)) > FarMm && Fit(line, light, found) is { } again)
            (line, doubt, found, _) = again;
        return new([.. outline.Points.Select(p => Drawn(p, course, line))], OutlineBudget.Shadow(doubt), found);
    }

    /// <summary>A line as depth under the guessed chord of the edge.</summary>
    private readonly record struct Line(double[] AlongMm, double[] DepthMm)
    {
        public double At(double along) => EdgeSections.At(AlongMm, DepthMm, along);
    }

    /// <summary>Sections across the spine as the outline shows it, to be seen under the light of the edge; null where there is too little of it.</summary>
    /// <param name="known">The edge's height.</param>
    public SpineSide? Side(KnownHeight known)
    {
        if (Course() is not { } course || Across(course, new(known.HeelMm, known.TipMm, lifted, spineMm)) is not { } across)
            return null;

        // Turned against the edge's mean normal, which stands on its chord.
        Vector2 chord = (edge.Tip - edge.Heel).Normalized();
        var mean = new Vector2(-chord.Y, chord.X);
        mean = mean.Dot(edge.Outward) > 0 ? mean * -1 : mean;
        EdgeProfile[] sections = [.. across.Profiles.Select((p, i) => p with { Share = across.Share[i], TurnRad = Math.Atan2(across.Inward[i].Dot(chord), across.Inward[i].Dot(mean)) })];
        return new(sections, lifted, spineMm, across.At.Select((p, i) => camera.Parallax(p, 1).Dot(across.Inward[i])).Average());
    }

    /// <summary>Sections across a line: where they lie along it and on the mat, which way is inward, and how far on the way from heel to tip.</summary>
    private sealed record Sectioned(double EveryMm, double[] PlaceMm, Point2[] At, Vector2[] Inward, double[] Share, EdgeProfile[] Profiles);

    private Sectioned? Across(Line course, SpineRims rims)
    {
        Point2[] line = Contour.Open([.. course.AlongMm.Select((x, i) => edge.Place(x, -course.DepthMm[i]))], 0.3);
        double ds = line[0].DistanceTo(line[1]);
        Vector2[] inward = OutlineView.Inward(line, edge.Outward * -1);
        double length = (line.Length - 1) * ds;
        double every = Math.Max(SectionMm, length / Sections);
        double[] places = [.. Enumerable.Range(0, Math.Max(0, (int)((length - SectionMm) / every) + 1)).Select(i => (SectionMm / 2) + (i * every))];
        if (places.Length < FewestSections)
            return null;
        int[] at = [.. places.Select(s => Math.Min(line.Length - 1, (int)(s / ds)))];
        double[] share = [.. at.Select(i => Math.Clamp((line[i] - edge.Heel).Dot(edge.X) / (edge.Tip - edge.Heel).Dot(edge.X), 0, 1))];

        // A camera on the outer side sees the wall, and the paper beside it no further off than the lower rim is high.
        EdgeProfile[] profiles = [.. EdgeProfile.Along(line, inward, sampler, map, ds, camera, places)
            .Select((p, i) => p.View > 0 ? p with { View = p.View * rims.LowAt(share[i]) / Math.Max(0.1, rims.TopAt(share[i])) } : p)];
        return new(every, places, [.. at.Select(i => line[i])], [.. at.Select(i => inward[i])], share, profiles);
    }

    /// <summary>The line that sections across the course show.</summary>
    private (Line Line, double DoubtMm, EdgeLight Light, double[] InwardMm)? Fit(Line course, EdgeLight light, EdgeLight? begin)
    {
        var rims = new SpineRims(light.HeelMm, light.TipMm, lifted, spineMm);
        if (Across(course, rims) is not { } across)
            return null;
        (double every, double[] places, Point2[] at, Vector2[] inward, double[] share, EdgeProfile[] profiles) = across;
        double wall = at.Select((p, i) => camera.Parallax(p, rims.ThickAt(share[i])).Dot(inward[i])).Average();
        EdgeLight beside = light.ForSpine(rims.TopAt(share[0]), rims.TopAt(share[^1]), wall);
        var fit = new EdgeLightFit(profiles, sigmaPx * outline.PixelMm, outline.PixelMm, new((beside.HeelMm + beside.TipMm) / 2, lifted ? LiftedUMm : FlatUMm), beside);
        EdgeLightFit.SupposedLine[] supposed = [new(new double[places.Length]), .. begin is not null ? [] : s_leans.Select(f => new EdgeLightFit.SupposedLine([.. profiles.Select(p => Math.Min(DeepestMm, f * beside.HeightAt(p.Share)))]))];
        (EdgeLight found, EdgeLightFit.Places best) = fit.Find(supposed, begin);
        double typical = Math.Max(1e-6, best.Curvature.Order().ElementAt(places.Length / 2));
        double Smooth(double s) => RobustPolynomial.Fit(places, best.InwardMm, 1, 0.06, [.. places.Select((q, i) => Math.Clamp(best.Curvature[i] / typical, 0.05, 3) * Math.Exp(-0.5 * Math.Pow((q - s) / (1.5 * every), 2)))]).At(s);
        double[] shift = [.. places.Select(Smooth)];
        double[] along = [.. at.Select(p => (p - edge.Origin).Dot(edge.X))];
        return (new(course.AlongMm, [.. course.AlongMm.Select((x, i) => course.DepthMm[i] - (EdgeSections.At(along, shift, x) / inward[Nearest(along, x)].Dot(edge.Outward)))]), fit.DoubtMm(found, best.InwardMm), found, best.InwardMm);
    }

    private static int Nearest(double[] along, double x) => Enumerable.Range(0, along.Length).MinBy(i => Math.Abs(along[i] - x));

    /// <summary>A place of the outline on the line; beyond its ends it runs back into the outline.</summary>
    private Point2 Drawn(Point2 p, Line course, Line line)
    {
        double x = (p - edge.Origin).Dot(edge.X);
        double depth = -(p - edge.Origin).Dot(edge.Outward);
        double beyond = Math.Max(course.AlongMm[0] - x, x - course.AlongMm[^1]);
        if (beyond > BeyondMm || Math.Abs(depth - course.At(x)) > ElseMm)
            return p;
        double share = Math.Clamp((BeyondMm - beyond) / BeyondMm, 0, 1);
        double ran = beyond > 0 ? depth + line.At(x) - course.At(x) : line.At(x);
        return edge.Place(x, -((share * ran) + ((1 - share) * depth)));
    }

    /// <summary>The spine as the outline shows it, by robust parabolas; null where there is too little.</summary>
    private Line? Course()
    {
        Point2[] p = outline.Points;
        double from = (edge.Heel - edge.Origin).Dot(edge.X) + FromHeelMm;
        double to = (edge.Tip - edge.Origin).Dot(edge.X) - ToTipMm;
        Vector2[] inward = Contour.Inward(p, Math.Max(2, (int)(2 / Math.Max(0.01, p[0].DistanceTo(p[1])))));
        int sign = Math.Sign(Contour.SignedArea(p));
        (double X, double D)[] spine = [.. Enumerable.Range(0, p.Length).Where(i => sign * inward[i].Dot(edge.Outward) > 0.5)
            .Select(i => (X: (p[i] - edge.Origin).Dot(edge.X), D: -(p[i] - edge.Origin).Dot(edge.Outward))).Where(v => v.X > from && v.X < to)];
        var along = new List<double>();
        var depth = new List<double>();
        for (double x = from; x < to; x += EveryMm)
        {
            double middle = Math.Clamp(x, from + WindowMm, Math.Max(from + WindowMm, to - WindowMm));
            (double X, double D)[] near = [.. spine.Where(v => Math.Abs(v.X - middle) < WindowMm)];
            if (near.Length < 20)
                continue;
            int step = Math.Max(1, near.Length / 80);
            near = [.. near.Where((_, i) => i % step == 0)];
            double d = RobustPolynomial.Fit([.. near.Select(v => v.X)], [.. near.Select(v => v.D)], 2, 0.1).At(x);
            if (d + EdgeSections.At(edge.AlongMm, edge.SmoothMm, x) < NarrowestMm)
                continue;
            along.Add(x);
            depth.Add(d);
        }

        return along.Count < 6 ? null : new([.. along], [.. depth]);
    }
}

/// <summary>A spine as it appears on the mat.</summary>
/// <param name="Outline">The whole outline, the spine's line drawn in.</param>
/// <param name="ShadowUMm">How far shadows may have moved it, standard uncertainty.</param>
/// <param name="Light">The light along it; null where none was found.</param>
internal sealed record SeenSpine(Point2[] Outline, double ShadowUMm, EdgeLight? Light);
