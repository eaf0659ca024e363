using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>From a photo of a blade on a printed mat to its outline in millimetres.</summary>
public static class OutlineTracer
{
    /// <summary>Views closer to each other than this (difference of r/H) measure no height; chosen, not derived.</summary>
    private const double LeastBaseline = 0.06;

    /// <summary>An end that two photos show further apart, parallax taken out, was mistaken in one of them. Chosen.</summary>
    private const double MostApartMm = 3;

    /// <summary>Lines further apart than this, root mean square, at the height that lays them nearest, are not one edge. Chosen.</summary>
    private const double MostBesideMm = 0.8;

    /// <summary>A blade both of whose ends lie further apart in two photos, told height taken out, was moved between them. Chosen.</summary>
    private const double MostMovedMm = 2.5;

    /// <summary>Shadows that leave the edge in more doubt than this are spoken of. Chosen.</summary>
    private const double DoubtfulMm = 0.35;

    /// <summary>Traces a blade.</summary>
    /// <param name="photo">Blade on the mat, from above.</param>
    /// <param name="second">The same blade, untouched, from another place; measures the edge's height. Null for one photo. Its chips are weighed with the first's.</param>
    /// <param name="mat">The mat as printed.</param>
    /// <param name="edgeHeight">
    /// Height of the middle of the edge over the mat where it is known; wins over the second photo. A blade touches down near its tip, so the tip is
    /// taken to float no higher than half its thickness there and the heel as much above the middle as the tip is below. Where it is not told but the spine's
    /// thickness is, a blade without handle or tang, or one told to, lies on its flank.
    /// </param>
    /// <param name="focal35Mm">The phone's 35 mm equivalent focal length where it is told, else what the photo says (EXIF); helps to say where the camera stood.</param>
    /// <param name="told">To which side of the mat the edge points and toward which the heel lies, where a person told it, else they are judged; how thick the spine is, and whether the blade lies on its flank.</param>
    /// <exception cref="ArgumentOutOfRangeException">A height, spine or focal length that cannot be, or a height that a blade on its flank cannot have.</exception>
    public static TracedOutline Trace(Picture photo, Picture? second, MatSheet mat, Length? edgeHeight = null, double? focal35Mm = null, BladeTold told = default)
    {
        ArgumentNullException.ThrowIfNull(photo);
        ArgumentNullException.ThrowIfNull(mat);
        if (edgeHeight is { } z)
            Require.Within(z.Millimetres, 0, 60, nameof(edgeHeight));
        if (focal35Mm is { } focal)
            Require.Within(focal, 8, 400, nameof(focal35Mm));
        if (told.Spine is { } thick)
            Require.Within(thick.Millimetres, 0.2, 30, "spine");
        if (told is { OnFlank: true, Spine: { } spine } && edgeHeight > BladeTold.MostOnFlank(spine))
            throw new ArgumentOutOfRangeException(nameof(edgeHeight), edgeHeight.Value.Millimetres, FormattableString.Invariant($"A blade on its flank floats on at most half its spine, {spine.Millimetres / 2:0.0} mm."));
        var height = new ToldHeight(edgeHeight?.Millimetres, told.Spine?.Millimetres, told.OnFlank);
        (OutlineView? view, Reason? reason) = OutlineView.Of(photo, mat, focal35Mm ?? photo.Focal35Mm, second is null ? "" : "First photo: ", told, height);
        var reasons = new List<Reason>();
        if (view is null && second is not null && reason!.Code is OutlineView.EndsAlike or OutlineView.SidesAlike
            && OutlineView.Of(second, mat, focal35Mm ?? second.Focal35Mm, "Second photo: ", told, height).View is { } there)
        {
            // The blade lies in both as it lay: what the first leaves open the second may tell.
            BladeTold seen = Lying(there);
            (view, reason) = OutlineView.Of(photo, mat, focal35Mm ?? photo.Focal35Mm, "First photo: ", new(told.EdgeToward ?? seen.EdgeToward, told.HeelToward ?? seen.HeelToward), height);
            reasons.Add(new("lie-from-second", "The first photo does not tell edge and spine, or heel and tip, apart; the second does, and its word was taken. Look whether it is right."));
        }

        if (view is null)
            return TracedOutline.Refuse(reason!);
        reasons.AddRange(view.Cautions);
        if (focal35Mm is null && photo.Focal35Mm is { } said)
            reasons.Add(new("focal-from-photo", FormattableString.Invariant($"The photo says that its focal length is {said:0} mm (35 mm equivalent, EXIF); taken as good to 2 % (chosen) to tell where the camera stood. Where the photo was cropped or zoomed since, tell the right one.")));
        double heel = 0;
        double tip = 0;
        double u;
        EdgeHeightSource source;
        if (view.Known is { } lift && (edgeHeight is not null || second is null))
        {
            (heel, tip, u, source) = (lift.HeelMm, lift.TipMm, lift.AlongUMm, EdgeHeightSource.Told);
            if (edgeHeight is null)
                reasons.Add(new("height-from-spine", FormattableString.Invariant($"The edge's height was taken from the spine's thickness: a blade on its flank floats on half its own thickness, {lift.HeelMm:0.0} mm at the heel and about {lift.TipMm:0.0} mm at the tip.")));
            if (second is not null && Other(view, second, mat, focal35Mm, height, reasons) is { } other)
                view = Together(view, other, lift.HeelMm, lift.TipMm, 0, reasons) ?? view;
        }
        else if (second is not null && Measure(view, second, mat, focal35Mm, reasons) is var (knowing, found))
        {
            view = knowing;
            (heel, tip, u, source) = (found.HeelMm, found.TipMm, found.UMm, EdgeHeightSource.Measured);
        }
        else
        {
            (u, source) = (OutlineBudget.UsualHeightMm, EdgeHeightSource.Unknown);
            reasons.Add(new("edge-height-unknown", "Nobody told how high the edge floats over the mat, so it is given as seen, with the doubt in its uncertainty. Tell the height, or how thick the spine is and that the blade lies on its flank (it floats on half of that), or take a second photo from another place."));
        }

        return Result(view, heel, tip, u, source, reasons);
    }

    // The second photo; null with a reason where it cannot be used with the first.
    private static OutlineView? Other(OutlineView view, Picture second, MatSheet mat, double? focal35Mm, ToldHeight height, List<Reason> reasons)
    {
        // The blade lies as it lay: the second photo takes side and end that the first was judged to show.
        (OutlineView? other, Reason? reason) = OutlineView.Of(second, mat, focal35Mm ?? second.Focal35Mm, "Second photo: ", Lying(view), height);
        if (other is null)
            reasons.Add(reason!);
        return other;
    }

    private static BladeTold Lying(OutlineView view) => new(BladeTold.Facing(view.Edge.Outward), BladeTold.Facing(view.Edge.Heel - view.Edge.Tip));

    // One end may have been mistaken in one photo; where both lie apart, or the line between them does, the blade was moved.
    private static OutlineView? Together(OutlineView view, OutlineView other, double heelMm, double tipMm, double lineApartMm, List<Reason> reasons)
    {
        Point2[] here = view.OnMat(heelMm, tipMm);
        Point2[] there = other.OnMat(heelMm, tipMm);
        (double heelApart, double tipApart) = (here[0].DistanceTo(there[0]), here[^1].DistanceTo(there[^1]));
        if (Math.Min(heelApart, tipApart) > MostMovedMm || lineApartMm > MostBesideMm)
        {
            reasons.Add(new("photos-disagree", FormattableString.Invariant($"The photos do not show the same edge in the same place ({here[0].DistanceTo(here[^1]):0.0} and {there[0].DistanceTo(there[^1]):0.0} mm long). Leave the blade untouched between the two.")));
            return null;
        }

        if (Math.Max(heelApart, tipApart) > MostApartMm)
            reasons.Add(new("ends-disagree", FormattableString.Invariant($"The photos show the {(heelApart > tipApart ? "heel" : "tip")} in places {Math.Max(heelApart, tipApart):0.0} mm apart. It is told as the first photo shows it: look whether it is right.")));
        return view.WithEndsOf(other, heelMm, tipMm).WithChipsOf(other, heelMm, tipMm);
    }

    private static (OutlineView View, EdgeHeight Height)? Measure(OutlineView view, Picture second, MatSheet mat, double? focal35Mm, List<Reason> reasons)
    {
        if (Other(view, second, mat, focal35Mm, new(null, view.SpineMm, !view.Lifted), reasons) is not { } other)
            return null;
        EdgeHeight? height = EdgeHeight.Between(view, other);
        if (height is null || height.Baseline < LeastBaseline)
        {
            reasons.Add(new("same-place", "Both photos were taken from nearly the same place, so they do not measure the edge's height. Take the second from a hand's breadth further to the side, square to the edge."));
            return null;
        }

        // Measured, the height tells shadow from steel in both photos; then it is measured from the better lines.
        KnownHeight known = KnownHeight.Measured(height);
        (OutlineView first, OutlineView again) = (view.Knowing(known), other.Knowing(known));
        EdgeHeight better = EdgeHeight.Between(first, again) ?? height;
        return Together(first, again, better.HeelMm, better.TipMm, better.ApartMm, reasons) is { } both ? (both, better) : null;
    }

    private static TracedOutline Result(OutlineView view, double heelZ, double tipZ, double heightU, EdgeHeightSource source, List<Reason> reasons)
    {
        if (view.Seen.ShadowUMm > DoubtfulMm)
            reasons.Add(new("edge-in-shadow", FormattableString.Invariant($"A shadow about as dark as the steel lies along the edge: the edge may lie {2 * view.Seen.ShadowUMm:0.0} mm from where it is drawn. For better than that move the lamp to the edge's side, or soften it, and take the photo again.")));
        reasons.AddRange(EndsInDoubt.Of(view.Seen.HeelUMm, view.Seen.TipUMm));
        MatCamera camera = view.Camera;
        Point2[] seen = view.EdgeLine;
        int n = seen.Length;
        double middle = (heelZ + tipZ) / 2;
        Point2[] asSeen = view.EdgeAsIs;
        double Height(int i) => heelZ + ((tipZ - heelZ) * i / (n - 1));
        Point2[] smooth = view.OnMat(heelZ, tipZ);
        Point2[] asIs = [.. asSeen.Select((p, i) => camera.Correct(p, Height(i)))];
        Point2 heel = smooth[0];
        Point2 tip = smooth[^1];
        var frame = new BladeFrame(heel, tip, view.Edge.Outward);
        Point2[] edge = [.. Contour.Open(smooth, 0.5).Select(frame.ToBlade)];
        SeenSpine spine = view.Spine.Of(view.Seen.Light);
        var rims = new SpineRims(heelZ, tipZ, view.Lifted, view.SpineMm);
        Point2[] outline = Steel(Contour.Resample(spine.Outline, 0.25), frame, camera, rims, heel.DistanceTo(tip));
        Point2[] blade = BladeOnly.Cut([.. outline.Select(frame.ToBlade)], edge);
        double lift = source == EdgeHeightSource.Unknown ? Math.Sqrt(2) * heightU : heightU;
        HeightBudget Between(Point2 e, Point2 s)
        {
            double View(Point2 p, Vector2 outward) => camera.Parallax(p, 1).Dot(outward);
            (Point2 onEdge, Point2 onSpine) = (frame.ToMat(e), frame.ToMat(s));
            Vector2 outward = (onEdge - onSpine).Normalized();
            return HeightBudget.Of(Math.Sqrt((view.Sheet.MapUMm * view.Sheet.MapUMm) + (view.StepUMm * view.StepUMm)), view.Seen.ShadowUMm, spine.ShadowUMm, View(onEdge, outward), View(onSpine, outward * -1), lift, rims);
        }

        List<HeightStation> heights = BladeOnly.Heights(blade, edge, (e, s) => Between(e, s).TotalMm);
        (double tall, HeightBudget tallBudget) = BladeOnly.Largest(blade, edge) is { } way ? (way.HeightMm, Between(way.Edge, way.Spine)) : (0, HeightBudget.None);
        Vector2 chord = (tip - heel).Normalized();
        double stretch = (camera.Parallax(tip, 1) - camera.Parallax(heel, 1)).Dot(chord);
        LengthBudget length = LengthBudget.Of(view.Sheet.MapUMm, view.Seen.HeelUMm, view.Seen.TipUMm, stretch, lift);
        int[] middles = [.. view.Chips.Select(c => view.Seen.Station(c.AtMm))];
        List<TracedChip> chips = [.. view.Chips.Zip(middles, (c, i) => new TracedChip(frame.ToBlade(smooth[i]).X, c.Shape.DepthMm, c.DepthUMm, c.Shape.WidthMm, smooth[i]))];

        // Across the edge only: that is what a wrong height or camera moves.
        Vector2[] inward = OutlineView.Inward(seen, view.Edge.Outward);
        double perMm = Math.Sqrt(seen.Select((p, i) => camera.Parallax(p, 1).Dot(inward[i])).Average(v => v * v));
        (double placeU, double cameraHeightU) = camera.Uncertainty();
        double z = source == EdgeHeightSource.Unknown ? OutlineBudget.UsualHeightMm : middle;
        double parallax = perMm * z;
        var budget = new OutlineBudget(
            view.Sheet.MapUMm,
            view.StepUMm,
            view.Seen.ShadowUMm,
            perMm * lift,
            z / camera.HeightMm * Math.Sqrt((placeU * placeU) + Math.Pow(perMm * cameraHeightU, 2)));
        return new()
        {
            Outcome = TraceOutcome.Traced,
            Reasons = reasons,
            EdgeMm = edge,
            EdgeOnMatMm = asIs,
            EdgeAsSeenMm = asSeen,
            OutlineOnMatMm = outline,
            BladeOutlineMm = blade,
            LengthMm = heel.DistanceTo(tip),
            LengthUMm = length.TotalMm,
            LengthBudget = length,
            HeightMm = tall,
            HeightUMm = tallBudget.TotalMm,
            HeightBudget = tallBudget,
            Heights = heights,
            HeelOnMatMm = heel,
            TipOnMatMm = tip,
            Chips = chips,
            EdgeHeightMm = middle,
            EdgeHeightUMm = heightU,
            EdgeHeightFrom = source,
            ViewTilt = Angle.FromDegrees(camera.TiltDeg),
            CameraOnMatMm = camera.PlaceMm,
            CameraHeightMm = camera.HeightMm,
            ParallaxMm = parallax,
            UMm = budget.TotalMm,
            Budget = budget,
            Sheet = view.Sheet,
            OutlineAsSeenMm = spine.Outline,
            ChipsAsSeenMm = [.. middles.Select(i => asSeen[i])],
        };
    }

    /// <summary>An outline as it is, parallax taken out: its rims stand the higher and lower the further from the edge; behind the heel, where a handle may be, at the edge's height.</summary>
    private static Point2[] Steel(Point2[] seen, BladeFrame frame, MatCamera camera, SpineRims rims, double lengthMm)
    {
        Vector2[] inward = Contour.Inward(seen, 8);
        int sign = Math.Sign(Contour.SignedArea(seen));
        Point2[] places = [.. seen.Select(frame.ToBlade)];
        double tall = Math.Max(1, -places.Where(p => p.X > 0 && p.X < lengthMm).Select(p => p.Y).DefaultIfEmpty(-1).Min());
        return [.. seen.Select((p, i) => camera.Correct(p, rims.SeenAt(
            Math.Clamp(places[i].X / lengthMm, 0, 1),
            camera.Parallax(p, 1).Dot(inward[i] * -sign),
            places[i].X < -1 ? 0 : -places[i].Y / tall)))];
    }
}
