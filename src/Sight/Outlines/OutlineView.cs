using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>One photo's view of a blade: camera, outline and edge as they appear on the mat's plane.</summary>
internal sealed record OutlineView
{
    /// <summary>Steeper than this and steel hides its own edge; chosen, not derived.</summary>
    private const double LargestTiltDeg = 40;

    /// <summary>Blur on the mat above which an edge is not read; chosen, not derived.</summary>
    private const double LargestBlurMm = 0.5;

    private const double ShortestBladeMm = 30;

    /// <summary>An outline that bulges out by this much at an end is not the blade's own. Chosen.</summary>
    private const double CoverMm = 6;

    /// <summary>The same at the heel, where a handle's shadow joins the blade. Chosen.</summary>
    private const double CoverAtHandleMm = 10;

    /// <summary>A heel that stands out this far over the handle is a corner of its own. Chosen.</summary>
    private const double CornerDropMm = 2.5;

    /// <summary>No handle or tang is thinner, mm. Chosen: on 120 rendered blades they have 15 and more, a spine's shadow that was taken for one had 1.</summary>
    private const double ThinnestHandleMm = 4;

    /// <summary>Codes of what a person, or another photo, can tell.</summary>
    public const string EndsAlike = "ends-alike", SidesAlike = "sides-alike";

    public required MatCamera Camera { get; init; }

    public required FoundSheet Sheet { get; init; }

    public required RefinedOutline Outline { get; init; }

    public required SmoothEdge Edge { get; init; }

    public required EdgeSide Side { get; init; }

    /// <summary>Finds the edge's line.</summary>
    public required EdgeTrace Line { get; init; }

    public required SeenEdge Seen { get; init; }

    /// <summary>The same with the edge's line found anew for a height that is known now.</summary>
    public OutlineView Knowing(KnownHeight height) => this with { Seen = Line.Of(height) };

    /// <summary>The same with its chips weighed again by another photo of the blade, edges at these heights.</summary>
    public OutlineView WithChipsOf(OutlineView other, double heelMm, double tipMm)
    {
        Point2[] line = OnMat(heelMm, tipMm);
        Point2[] theirs = other.OnMat(heelMm, tipMm);
        Point2[] At(SeenEdge edge, Point2[] on) => [.. edge.Places.Select(p => on[edge.Station(p.AtMm)])];
        double Along(Point2 place) => Enumerable.Range(0, line.Length).MinBy(i => line[i].DistanceTo(place)) * Seen.SpacingMm;
        return this with { Seen = Seen with { Places = ChipsOfTwo.Weigh(Seen.Places, At(Seen, line), other.Seen.Places, At(other.Seen, theirs), Along, Seen.SpacingMm * (line.Length - 1)) } };
    }

    /// <summary>The same with heel and tip weighed again by another photo of the blade, edges at these heights.</summary>
    public OutlineView WithEndsOf(OutlineView other, double heelMm, double tipMm)
    {
        Point2[] line = OnMat(heelMm, tipMm);
        Point2[] theirs = other.OnMat(heelMm, tipMm);
        (double heelBy, double heelU) = EndsOfTwo.Weigh((theirs[0] - line[0]).Dot(EndsOfTwo.Outward([.. line.Reverse()])), Seen.HeelUMm, other.Seen.HeelUMm);
        (double tipBy, double tipU) = EndsOfTwo.Weigh((theirs[^1] - line[^1]).Dot(EndsOfTwo.Outward(line)), Seen.TipUMm, other.Seen.TipUMm);
        Point2[] moved = EndsOfTwo.Moved(EdgeLine, heelBy, tipBy);
        return this with
        {
            Seen = Seen with
            {
                Line = moved,
                Inward = Inward(moved, Edge.Outward),
                Places = [.. Seen.Places.Select(p => p with { AtMm = p.AtMm + heelBy })],
                HeelUMm = heelU,
                TipUMm = tipU,
            },
        };
    }

    /// <summary>The edge's stations on the mat, parallax taken out, at a height at heel and tip.</summary>
    public Point2[] OnMat(double heelMm, double tipMm) => [.. EdgeLine.Select((p, i) => Camera.Correct(p, heelMm + ((tipMm - heelMm) * i / (EdgeLine.Length - 1))))];

    public IReadOnlyList<SeenChip> Chips => Seen.Chips;

    /// <summary>Stations of the smooth edge, heel to tip.</summary>
    public Point2[] EdgeLine => Seen.Line;

    /// <summary>The edge with its chips at the same stations.</summary>
    public Point2[] EdgeAsIs => Seen.AsIs();

    /// <summary>Finds the spine's line.</summary>
    public required LitSpine Spine { get; init; }

    /// <summary>Whether a handle lifts the blade.</summary>
    public required bool Lifted { get; init; }

    /// <summary>The edge's height as far as it was told.</summary>
    public required KnownHeight? Known { get; init; }

    /// <summary>The spine's thickness where it was told.</summary>
    public required double? SpineMm { get; init; }

    public required double BlurPx { get; init; }

    public required double StepUMm { get; init; }

    public IReadOnlyList<Reason> Cautions { get; init; } = [];

    /// <summary>Looks for the blade in a photo.</summary>
    public static (OutlineView? View, Reason? Reason) Of(Picture photo, MatSheet mat, double? focal35Mm, string which, BladeTold told = default, ToldHeight height = default)
    {
        IReadOnlyList<SheetFiducial> fiducials = Printed(mat);
        SheetSearch search = SheetFinder.Find(photo, fiducials);
        if (search.Sheet is not { } sheet)
            return (null, search.Reason! with { Text = which + search.Reason!.Text });
        MatCamera? camera = MatCamera.From(sheet, photo.WidthPx, photo.HeightPx, focal35Mm);
        if (camera is null || !(camera.HeightMm > 20))
            return (null, new("no-pose", $"{which}The fiducials do not tell where the camera stood. Lay the mat flat and take the photo from above, all four corners in view."));
        if (camera.TiltDeg > LargestTiltDeg)
            return (null, new("too-oblique", $"{which}The camera was tilted by {camera.TiltDeg:0}° against the mat; at most {LargestTiltDeg:0}° is read. Hold it over the middle of the blade, looking straight down."));
        PhotoSampler whole = PhotoSampler.Around(photo, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        (double blur, double worst) = Sharpness.Of(whole, sheet);
        if (worst / sheet.PixelsPerMm > LargestBlurMm)
            return (null, new("blurred", $"{which}The photo is blurred by {worst / sheet.PixelsPerMm:0.0} mm on the mat; {LargestBlurMm:0.0} mm is the most that is read. Hold still, tap the mat to focus, add light."));
        Point2 size = new(fiducials.Max(f => f.RightMm), fiducials.Max(f => f.BottomMm));
        Vector2 scale = Scale(mat);
        size = new(Math.Max(size.X, mat.SizeMm.X * scale.X), Math.Max(size.Y, mat.SizeMm.Y * scale.Y));
        using Picture? bare = PrintRemoval.Of(photo, sheet.Map, size);
        if (bare is not null)
            whole = PhotoSampler.Around(bare, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        using Picture? unsharpened = CameraSharpening.Of(photo, sheet)?.Undone(bare ?? photo);
        PhotoSampler even = unsharpened is null ? whole : PhotoSampler.Around(unsharpened, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        double evenBlur = unsharpened is null ? blur : Sharpness.Of(even, sheet).SigmaPx;
        using MatField field = MatField.From(bare ?? photo, sheet.Map, size, sheet.Fiducials, fiducials);
        IReadOnlyList<ThingOnMat> things = ThingOnMat.Find(field, fiducials);
        var blades = things.Where(LooksLikeBlade).ToList();
        if (blades.Count == 0)
            return (null, new("no-blade", $"{which}Nothing on the mat looks like a blade ({things.Count} other things). Lay the blade on the plain field of the mat, away from shadows, and take the photo again."));
        if (blades.Count > 1 && blades[1].AreaMm2 > 0.3 * blades[0].AreaMm2 && blades[1].WidthMm > 13)
            return (null, new("several-blades", $"{which}Two things on the mat may be blades, {blades[0].LengthMm:0} and {blades[1].LengthMm:0} mm long. Leave one on the mat."));
        return Trace(whole, sheet, camera, blades[0], field, blur, (even, evenBlur), which, told, height);
    }

    /// <summary>The fiducials where the printer put them.</summary>
    public static IReadOnlyList<SheetFiducial> Printed(MatSheet mat)
    {
        Vector2 s = Scale(mat);
        return [.. mat.Fiducials.Select(f => f with { CornersMm = [.. f.CornersMm.Select(c => new Point2(c.X * s.X, c.Y * s.Y))] })];
    }

    private static Vector2 Scale(MatSheet mat) => mat.PrintScale is { } p ? new(p.Across, p.Down) : new(1, 1);

    private static bool LooksLikeBlade(ThingOnMat t) => t.LengthMm > ShortestBladeMm && t.AreaMm2 > 250 && t.LengthMm > 1.5 * t.WidthMm && t.WidthMm > 8 && !t.TwoRounds;

    private static (OutlineView? View, Reason? Reason) Trace(
        PhotoSampler sampler, FoundSheet sheet, MatCamera camera, ThingOnMat thing, MatField field, double blur, (PhotoSampler Sampler, double BlurPx) even, string which, BladeTold told, ToldHeight height)
    {
        var refiner = new OutlineRefiner(sampler, sheet.Map, blur);
        RefinedOutline outline = refiner.Refine(thing.Outline);
        var ink = RuledInk.Around(sampler, sheet.Map, outline.Points);
        (sampler, even.Sampler) = (sampler.With(ink), even.Sampler.With(ink));
        Point2[] coarse = Contour.Smooth(Contour.Resample(outline.Points, EdgeSide.OutlineStepMm), 1.0);
        BladeLie lie = BladeLie.Of(coarse, told.HeelToward is { } heelEnd ? SideChoice.Toward(heelEnd) : null, p => sampler.LightAt(sheet.Map.ToPhoto(p)), told.OnFlank == true);
        KnownHeight? known = height.Of(lie.HasHandle);
        (SmoothEdge Edge, EdgeSide Side)? low = SideOf(outline, coarse, lie, high: false);
        (SmoothEdge Edge, EdgeSide Side)? high = SideOf(outline, coarse, lie, high: true);
        if (low is null || high is null)
            return (null, NoSides(which));
        if (Covered(lie, which) is { } covered)
            return (null, covered);
        if (RimSeen.LongestMissing(coarse, sampler, sheet.Map, p => Outside(field, p), lie) is > RimSeen.LongestMissingMm and var missing)
            return (null, Unsteady(low.Value.Edge) || Unsteady(high.Value.Edge) ? Broken(which) : new("rim-not-seen", $"{which}Over {missing:0} mm the outline found has no step of tone: the steel mirrors as bright as the paper there, and where it ends was not seen. Move the lamp or the blade so that all of its rim stands out from the paper."));
        if (lie.HasHandle && lie.HandleWidthMm < ThinnestHandleMm)
            return (null, new("rim-not-seen", $"{which}Part of what was found is a strip {lie.HandleWidthMm:0.0} mm wide, thinner than a handle or tang: steel beside it mirrors as bright as the paper, and only the shadow along it was seen. Move the lamp or the blade so that all of its rim stands out from the paper."));
        if (told.HeelToward is { } heelToward && Math.Abs(lie.Axis.Dot(SideChoice.Toward(heelToward))) < SideChoice.LeastFacing)
            return (null, new("heel-not-there", $"{which}The heel was told to lie toward the mat's {Name(heelToward)}, but the blade lies across that direction. Tell the other pair: {Others(heelToward)}."));
        double odds;
        LitSides? sides = null; // kept: the likelier side's line need not be found again
        LitSides? Lit(double byOthers) => sides = told.EdgeToward is null && Math.Abs(byOthers) is > LitSides.LeastOdds and < LitSides.SureOdds && known is { } lift
            ? LitSides.Of(low!.Value.Edge, high!.Value.Edge, even.Sampler, sheet.Map, even.BlurPx, camera, outline, lift, height.Lifts(lie.HasHandle), height.SpineMm) : null;
        if (lie.EndsKnown)
        {
            odds = told.EdgeToward is { } toldSide ? SideChoice.Told(lie, toldSide) : SideChoice.Judge(lie, low.Value.Edge, high.Value.Edge, sampler, sheet.Map, outline.PixelMm, camera, blur * outline.PixelMm).Total;
            odds += Lit(odds)?.EdgeHigh ?? 0;
        }
        else
        {
            EndOdds ends = Ends(lie, low.Value.Edge, high.Value.Edge, told, sampler, sheet.Map, outline.PixelMm, camera, blur * outline.PixelMm);
            LitSides? lit = Lit(Math.Min(Math.Abs(ends.EdgeHigh), Math.Abs(ends.TipFar)));

            // The outline runs along shadows' rims here and there; a line under the light does not, and an edge's alone sweeps.
            Func<bool, double[]?>? sweeps = lit is not null ? isHigh => LitSweep.InsideMm([.. (isHigh ? lit.High : lit.Low).Line.Select(lie.Of)], isHigh) : null;
            if (lit is null && Math.Abs(ends.TipFar) < EndChoice.LeastOdds && told.EdgeToward is null && Math.Abs(ends.EdgeHigh) > LitSweep.LeastSides)
            {
                bool likelier = ends.EdgeHigh > 0;
                double[] its = LitSweep.InsideMm(lie, (likelier ? high.Value : low.Value).Edge, likelier, new(sampler, sheet.Map, blur, camera, known), outline.PixelMm);
                sweeps = isHigh => isHigh == likelier ? its : null;
            }

            if (sweeps is not null)
                ends = Ends(lie, low.Value.Edge, high.Value.Edge, told, sampler, sheet.Map, outline.PixelMm, camera, blur * outline.PixelMm, lit?.EdgeHigh ?? 0, sweeps);
            if (Math.Abs(ends.TipFar) < EndChoice.LeastOdds)
                return (null, new(EndsAlike, $"{which}Both ends of the blade are about equally wide, no handle or tang is seen, and neither the sweep of the edge nor the spine's shadow tells heel and tip apart. Say toward which side of the mat the heel lies (top, bottom, left or right, its print read upright). Or: take the photo with the handle in view."));
            odds = told.EdgeToward is { } toldSide ? SideChoice.Told(lie, toldSide) : ends.EdgeHigh;
            if (ends.TipFar < 0)
            {
                lie = BladeLie.Of(coarse, lie.Axis);
                known = height.Of(lie.HasHandle);
                odds = -odds;
                (low, high) = (SideOf(outline, coarse, lie, high: false), SideOf(outline, coarse, lie, high: true));
                if (low is null || high is null)
                    return (null, NoSides(which));
            }
        }

        if (told.EdgeToward is { } edgeToward && Math.Abs(odds) < SideChoice.LeastFacing)
            return (null, new("edge-not-there", $"{which}The edge was told to point to the mat's {Name(edgeToward)}, but the blade lies along that direction. Tell the other pair: {Others(edgeToward)}."));
        if (told.EdgeToward is null && Math.Abs(odds) < SideChoice.LeastOdds)
        {
            if (Unsteady(low.Value.Edge) || Unsteady(high.Value.Edge))
                return (null, Broken(which));
            string remedy = lie.HasHandle ? "Take the photo nearer, or with a lamp that lights up the bevel." : "Take the photo with the handle in view, nearer, or with a lamp that lights up the bevel.";
            return (null, new(SidesAlike, $"{which}Edge and spine look alike here: no heel that stands out over a handle, no bevel and no chips were seen clearly on one side only. Say to which side of the mat the edge points (top, bottom, left or right, its print read upright). Or: {char.ToLowerInvariant(remedy[0])}{remedy[1..]}"));
        }

        (SmoothEdge edge, EdgeSide side) = odds > 0 ? high.Value : low.Value;
        if (Unsteady(edge))
            return (null, Broken(which));
        foreach ((Point2 end, string name) in new[] { (edge.Heel, "heel"), (edge.Tip, "tip") })
        {
            if (Outside(field, end))
                return (null, new($"{name}-outside", $"{which}The {name} lies at the rim of the photo or of the mat. Move the blade or the camera so that heel and tip are well inside."));
        }

        var band = new PaperBand(sampler, sheet.Map, lie.HasHandle);
        Point2[] inOrder = InOrder(outline.Points, coarse[side.From], coarse[side.To], side.Forward, out int heelAt, out int tipAt);
        HeelFace? face = BareSteel.Face(edge, inOrder, heelAt, band);
        Point2? handlesEnd = lie.HasHandle ? lie.Origin + (lie.Axis * lie.BladeFromMm) + (lie.Across * (side.High ? lie.At(lie.BladeFromMm).High : lie.At(lie.BladeFromMm).Low)) : null;
        var litEnds = new LitEnds(sampler, sheet.Map, blur, outline.PixelMm, camera, face, inOrder, heelAt, tipAt, handlesEnd);
        var spine = new LitSpine(even.Sampler, sheet.Map, even.BlurPx, camera, outline, edge, height.Lifts(lie.HasHandle), height.SpineMm);
        var trace = new EdgeTrace(even.Sampler, sheet.Map, camera, even.BlurPx, outline.PixelMm, edge, spine.Side, litEnds.Of, sides?.Of(edge));
        double stepU = Median(outline.UMm) / 3;
        return (new()
        {
            Camera = camera,
            Sheet = sheet,
            Outline = outline,
            Edge = edge,
            Side = side,
            Line = trace,
            Seen = trace.Of(known),
            Spine = new(sampler, sheet.Map, blur, camera, outline, edge, height.Lifts(lie.HasHandle), height.SpineMm),
            Lifted = height.Lifts(lie.HasHandle),
            Known = known,
            SpineMm = height.SpineMm,
            BlurPx = blur,
            StepUMm = stepU,
        }, null);
    }

    private static Reason Broken(string which) =>
        new("edge-broken", $"{which}The outline of the edge is no smooth line: something lies against it, the mat's printing runs into it, or the steel mirrors as bright as the paper there. Clear the mat around the edge and move the lamp or the blade.");

    private static Reason NoSides(string which) =>
        new("edge-not-found", $"{which}No two long sides with a heel and a tip were found on the outline. See that heel and tip are uncovered and on the mat, and that nothing touches the blade.");

    /// <summary>Heel's end and edge's side of a thing whose ends are equally wide, told together.</summary>
    internal static EndOdds Ends(BladeLie lie, SmoothEdge low, SmoothEdge high, BladeTold told, PhotoSampler sampler, LensMap map, double pxMm, MatCamera camera, double blurMm, double litSides = 0, Func<bool, double[]?>? insideMm = null)
    {
        double sides = told.EdgeToward is { } side ? (SideChoice.Told(lie, side) > 0 ? double.MaxValue : double.MinValue) : SideChoice.Judge(lie, low, high, sampler, map, pxMm, camera, blurMm).OfBlank + litSides;
        return EndChoice.Judge(lie, sides, EndChoice.HaloFades(low, sampler, map), EndChoice.HaloFades(high, sampler, map), insideMm);
    }

    private static string Name(MatSide side) => side.ToString().ToLowerInvariant();

    private static string Others(MatSide side) => side is MatSide.Top or MatSide.Bottom ? "left or right" : "top or bottom";

    internal static (SmoothEdge Edge, EdgeSide Side)? SideOf(RefinedOutline outline, Point2[] coarse, BladeLie lie, bool high)
    {
        if (EdgeSide.Of(coarse, lie, high) is not { } side)
            return null;
        Point2[] line = InOrder(outline.Points, coarse[side.From], coarse[side.To], side.Forward, out int heelAt, out int tipAt);
        return (SmoothEdge.Of(line, heelAt, tipAt, !lie.HasHandle || lie.ByTone || side.DropMm > CornerDropMm), side);
    }

    private static Reason? Covered(BladeLie lie, string which)
    {
        bool tip = lie.Overreach(atTip: true) > CoverMm;
        bool heel = lie.Overreach(atTip: false) > (lie.HasHandle ? CoverAtHandleMm : CoverMm);
        if (lie.HasHandle && lie.EndMm - lie.BladeFromMm < Math.Min(75, 1.6 * lie.WidthMm))
            return new("end-covered", $"{which}Something round lies over heel or tip of the blade, or against it, or the mat's printing runs into it. Take it away, or move the blade on the plain field, and take the photo again.");
        if (!tip && !heel)
            return null;

        // Without a handle what lies over an end makes it the wider one: then the end that is not covered tells.
        string end = lie.HasHandle ? (tip ? "tip" : "heel") : "end";
        string named = end == "end" ? "heel or tip" : end;
        return new($"{end}-covered", $"{which}Something lies over the {named} of the blade, or against it, or the mat's printing runs into it: the outline bulges out there over the blade's own sides. Take it away, or move the blade on the plain field, and take the photo again.");
    }

    /// <summary>Whether much of the outline lies off any smooth line, chips apart.</summary>
    private static bool Unsteady(SmoothEdge edge)
    {
        double[] x = edge.AlongMm;
        RobustPolynomial fit = RobustPolynomial.Fit(x, edge.RawMm, 5, 1.0);
        double[] off = [.. x.Select((v, i) => edge.RawMm[i] - fit.At(v))];
        return off.Count(v => v > 1.5) > 0.06 * x.Length || off.Count(v => Math.Abs(v) < 0.7) < 0.55 * x.Length;
    }

    private static double Median(double[] values) => values.Order().ElementAt(values.Length / 2);

    private static bool Outside(MatField field, Point2 p)
    {
        int c = (int)(p.X / MatField.StepMm);
        int r = (int)(p.Y / MatField.StepMm);
        const int margin = 5;
        for (int y = r - margin; y <= r + margin; y += margin)
        {
            for (int x = c - margin; x <= c + margin; x += margin)
            {
                if (x < 0 || y < 0 || x >= field.Columns || y >= field.Rows || field.Valid.At<byte>(y, x) == 0)
                    return true;
            }
        }

        return false;
    }

    internal static Vector2[] Inward(Point2[] line, Vector2 outward)
    {
        int n = line.Length;
        var result = new Vector2[n];
        for (int i = 0; i < n; i++)
        {
            Vector2 t = line[Math.Min(n - 1, i + 8)] - line[Math.Max(0, i - 8)];
            Vector2 normal = new Vector2(-t.Y, t.X).Normalized();
            result[i] = normal.Dot(outward) > 0 ? normal * -1 : normal;
        }

        return result;
    }

    /// <summary>The closed outline opened so that it runs heel before tip, with half of the rest before and after.</summary>
    internal static Point2[] InOrder(Point2[] closed, Point2 heel, Point2 tip, bool forward, out int heelAt, out int tipAt)
    {
        Point2[] p = forward ? closed : [.. closed.Reverse()];
        int h = Nearest(p, heel);
        int t = Nearest(p, tip);
        int n = p.Length;
        int span = Contour.Wrap(t - h, n);
        int spare = (n - span) / 2;
        int start = h - spare;
        heelAt = spare;
        tipAt = spare + span;
        return [.. Enumerable.Range(0, n).Select(i => p[Contour.Wrap(start + i, n)])];
    }

    private static int Nearest(Point2[] p, Point2 to)
    {
        int best = 0;
        for (int i = 1; i < p.Length; i++)
        {
            if (p[i].DistanceTo(to) < p[best].DistanceTo(to))
                best = i;
        }

        return best;
    }
}
