using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>
/// Profile repair: the new outline from the old, the gap along the edge, the steel and a guess at the time, before any promise is made.
/// A repair only takes steel away. Curves at a new tip are parabolas that leave the old line without a corner (chosen, not derived).
/// </summary>
public static class Reshape
{
    private const int CurvePoints = 32;
    private const double LeastGapMm = 0.005;

    /// <summary>Works the repair out, or says why there is none.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value is no number, negative or unknown; it is named.</exception>
    public static ReshapeOutcome Evaluate(ReshapeInput input)
    {
        ReshapeChecks.Values(input);
        if (input.EdgeMm.Count < 2)
            return new ReshapeOutcome.Refused(ReshapeChecks.Outline(input.EdgeMm, input.EdgeMm));
        IReadOnlyList<Point2> spinePoints = input.SpineMm ?? StraightSpine(input);
        IReadOnlyList<Reason> reasons = ReshapeChecks.Outline(input.EdgeMm, spinePoints);
        if (reasons.Count > 0)
            return new ReshapeOutcome.Refused(reasons);

        double from = Math.Max(input.EdgeMm[0].X, spinePoints[0].X);
        double edgeTo = input.EdgeMm[^1].X, spineTo = spinePoints[^1].X;
        if (edgeTo - from < 1 || spineTo - from < 1)
            return Refuse("empty-outline", $"Edge and spine share less than 1 mm of length. Trace the blade again.");
        ProfileLine edge = new ProfileLine(input.EdgeMm).Part(from, edgeTo), spine = new ProfileLine(spinePoints).Part(from, spineTo);
        // The face of a break (or a square end) belongs to whichever line is shorter, so that both reach equally far.
        ProfileLine edgeWithFace = spineTo > edgeTo ? new([.. edge.Points, spine.Points[^1]]) : edge;
        ProfileLine spineWithFace = edgeTo > spineTo ? new([.. spine.Points, edge.Points[^1]]) : spine;

        return input.Repair switch
        {
            ProfileRepair.BrokenTipFromSpine => FromSpine(input, edge, spine, edgeWithFace, spineWithFace),
            ProfileRepair.BrokenTipFromEdge => FromEdge(input, edge, spine, edgeWithFace, spineWithFace),
            ProfileRepair.FullBolster => Bolster(input, edge, edgeWithFace, spineWithFace),
            ProfileRepair.OverGroundHeel => Heel(input, edge, edgeWithFace, spineWithFace),
            ProfileRepair.BoardGap => Gap(input, edge, edgeWithFace, spineWithFace),
            _ => RunOut(input, edge, edgeWithFace, spineWithFace),
        };
    }

    private static Point2[] StraightSpine(ReshapeInput input)
    {
        double y = input.EdgeMm[0].Y - input.HeightMm;
        return [new Point2(input.EdgeMm[0].X, y), new Point2(input.EdgeMm[^1].X, y)];
    }

    private static ReshapeOutcome FromSpine(ReshapeInput input, ProfileLine edge, ProfileLine spine, ProfileLine oldEdge, ProfileLine oldSpine)
    {
        Point2 tip = edge.Points[^1];
        double drop = tip.Y - spine.At(tip.X);
        double start = input.AtMm ?? tip.X - Math.Min(2 * drop, (tip.X - edge.FromX) * 0.8);
        if (NotOnBlade(start, edge.FromX, tip.X) is { } no)
            return no;
        var curve = new ProfileLine(Parabola(start, tip.X, x => spine.At(x), drop));
        ProfileLine joined = Join(oldSpine, start, curve, (a, b) => Math.Max(a, b));
        return Finish(input, edge, oldEdge, oldSpine, edge, joined, tip.X);
    }

    private static ReshapeOutcome FromEdge(ReshapeInput input, ProfileLine edge, ProfileLine spine, ProfileLine oldEdge, ProfileLine oldSpine)
    {
        Point2 tip = spine.Points[^1];
        double drop = edge.At(tip.X) - tip.Y;
        double start = input.AtMm ?? tip.X - Math.Min(1.5 * drop, (tip.X - edge.FromX) * 0.8);
        if (NotOnBlade(start, edge.FromX, tip.X) is { } no)
            return no;
        var curve = new ProfileLine(Parabola(start, tip.X, x => edge.At(x), -drop));
        ProfileLine joined = Join(oldEdge, start, curve, (a, b) => Math.Min(a, b));
        return Finish(input, edge, oldEdge, oldSpine, joined, spine, tip.X);
    }

    private static ReshapeOutcome Bolster(ReshapeInput input, ProfileLine edge, ProfileLine oldEdge, ProfileLine oldSpine)
    {
        if (Place(input, edge, "where the bolster ends", out double at) is { } no)
            return no;
        double level = edge.At(at) - input.BolsterClearanceMm, ramp = Math.Min(Math.Max(input.BolsterClearanceMm, 0.1), (at - edge.FromX) / 2);
        var target = new ProfileLine([new(edge.FromX, level), new(at - ramp, level), new(at, edge.At(at))]);
        return Finish(input, edge, oldEdge, oldSpine, Join(oldEdge, edge.FromX, target, Math.Min), oldSpine, oldEdge.ToX);
    }

    private static ReshapeOutcome Heel(ReshapeInput input, ProfileLine edge, ProfileLine oldEdge, ProfileLine oldSpine)
    {
        if (Place(input, edge, "where the straight run from the heel meets the old edge", out double at) is { } no)
            return no;
        var chord = new ProfileLine([edge.Points[0], new Point2(at, edge.At(at))]);
        return Finish(input, edge, oldEdge, oldSpine, Join(oldEdge, edge.FromX, chord, Math.Min), oldSpine, oldEdge.ToX);
    }

    private static ReshapeOutcome Gap(ReshapeInput input, ProfileLine edge, ProfileLine oldEdge, ProfileLine oldSpine)
    {
        ProfileLine mended = edge;
        bool any = false;
        for (int round = 0; round < 6 && BoardLine.DeepestGap(mended) is { } dip && dip.DepthMm > (any ? 1e-6 : LeastGapMm); round++)
        {
            mended = mended.LowerOf(BoardLine.UnderGap(mended, dip));
            any = true;
        }
        if (!any)
            return Refuse("no-gap", $"No gap over {LeastGapMm} mm to the board was found in this edge: nothing to mend. Trace the blade again if light shows under it.");
        ProfileLine whole = oldEdge.ToX > mended.ToX ? new([.. mended.Points, .. oldEdge.Points.Where(p => p.X > mended.ToX)]) : mended;
        return Finish(input, edge, oldEdge, oldSpine, whole, oldSpine, oldEdge.ToX);
    }

    private static ReshapeOutcome RunOut(ReshapeInput input, ProfileLine edge, ProfileLine oldEdge, ProfileLine oldSpine)
    {
        if (input.ChipAtMm is not { } at || input.ChipDepthMm is not { } depth)
            return Refuse("chip-missing", $"A chip run-out needs chipAtMm and chipDepthMm.");
        if (at < edge.FromX || at > edge.ToX)
            return Refuse("off-the-blade", $"chipAtMm = {at} lies off the edge, {edge.FromX:0.#} to {edge.ToX:0.#} mm.");
        double slope = edge.SlopeAt(at), shift = (depth + SectionDefaults.ChipMarginMm) * Math.Sqrt(1 + (slope * slope));
        if (shift >= edge.At(at) - oldSpine.At(at))
            return Refuse("deeper-than-blade", $"chipDepthMm = {depth} is as deep as the blade is high there, {edge.At(at) - oldSpine.At(at):0.#} mm. Measure again, or decline the piece.");
        ProfileLine lowered = oldEdge.Raised(-shift);
        double to = lowered.CommonStations(oldSpine).Where(x => lowered.At(x) >= oldSpine.At(x) - 1e-9).DefaultIfEmpty(edge.FromX).Max();
        return to - edge.FromX < 1
            ? Refuse("deeper-than-blade", $"Run out by {shift:0.##} mm nothing of the blade would be left. Measure again, or decline the piece.")
            : Finish(input, edge, oldEdge, oldSpine, lowered, oldSpine, to);
    }

    private static ReshapeOutcome.Refused? Place(ReshapeInput input, ProfileLine edge, string what, out double at)
    {
        at = input.AtMm ?? double.NaN;
        return input.AtMm is null ? Refuse("place-missing", $"This repair needs atMm: {what}.") : NotOnBlade(at, edge.FromX, edge.ToX);
    }

    private static ReshapeOutcome.Refused? NotOnBlade(double at, double from, double to) => at > from + 0.01 && at < to - 0.01
        ? null
        : Refuse("off-the-blade", $"atMm = {at} must lie on the blade, between {from:0.#} and {to:0.#} mm.");

    private static IEnumerable<Point2> ParabolaPoints(double from, double to, Func<double, double> line, double rise)
    {
        for (int i = 0; i <= CurvePoints; i++)
        {
            double t = (double)i / CurvePoints, x = from + ((to - from) * t);
            yield return new Point2(x, line(x) + (rise * t * t));
        }
    }

    private static Point2[] Parabola(double from, double to, Func<double, double> line, double rise) => [.. ParabolaPoints(from, to, line, rise)];

    /// <summary>The old line with one stretch replaced, keeping to the steel side of it.</summary>
    private static ProfileLine Join(ProfileLine old, double from, ProfileLine stretch, Func<double, double, double> keep)
    {
        double to = stretch.ToX;
        return new([
            .. old.Points.Where(p => p.X < from - 1e-9),
            .. old.CommonStations(stretch).Select(x => new Point2(x, keep(old.At(x), stretch.At(x)))),
            .. old.Points.Where(p => p.X > to + 1e-9)]);
    }

    private static ReshapeOutcome Finish(
        ReshapeInput input, ProfileLine edge, ProfileLine oldEdge, ProfileLine oldSpine, ProfileLine newEdge, ProfileLine newSpine, double newTo)
    {
        ProfileLine madeEdge = newEdge.Part(edge.FromX, Math.Min(newTo, newEdge.ToX)), madeSpine = newSpine.Part(edge.FromX, Math.Min(newTo, newSpine.ToX));
        IReadOnlyList<Reason> broken = ReshapeChecks.Outline(madeEdge.Points, madeSpine.Points);
        if (broken.Count > 0)
            return Refuse("repair-cuts-through", $"This repair would cut the blade in two: the new edge and the new spine cross. Start the new curve elsewhere (atMm), or decline the piece.");
        (double area, double volume) = RemovedSteel.Of(input, oldEdge, oldSpine, madeEdge, madeSpine, newTo);
        if (input.Repair == ProfileRepair.FullBolster && input.BolsterThicknessMm is { } thick)
            volume = area * thick;
        EdgeGap[] gaps = [.. edge.Points.Select(p => new EdgeGap(p.X, madeEdge.DistanceMm(p)))];
        double slow = input.RemovalMm3PerMinute ?? ReshapeInput.SlowestMm3PerMinute, fast = input.RemovalMm3PerMinute ?? ReshapeInput.FastestMm3PerMinute;
        return new ReshapeOutcome.Repaired(new ReshapeResult(
            madeEdge.Points, madeSpine.Points, gaps, area, volume, volume / fast, volume / slow,
            Math.Max(edge.ToX, oldSpine.ToX) - Math.Max(madeEdge.ToX, madeSpine.ToX), Notes(input)));
    }

    private static List<Reason> Notes(ReshapeInput input)
    {
        var notes = new List<Reason>();
        if (input.RemovalMm3PerMinute is null)
        {
            notes.Add(new Reason("time-is-a-guess", string.Create(CultureInfo.InvariantCulture,
                $"The time takes {ReshapeInput.SlowestMm3PerMinute} to {ReshapeInput.FastestMm3PerMinute} mm³ a minute, a guess between a coarse stone by hand and a coarse belt. Give the shop's own removalMm3PerMinute.")));
        }
        if (input.Repair == ProfileRepair.FullBolster && input.BolsterThicknessMm is null)
            notes.Add(new Reason("bolster-as-blade", "bolsterThicknessMm is not given: the bolster is counted as thick as the blade, and will take more steel and time than stated."));
        notes.Add(new Reason("thickness-straight", "The thickness runs straight from behind the edge to the spine and does not thin toward the tip: at the tip the steel is overstated."));
        notes.Add(new Reason("edge-blunt-after", "Where the profile was ground the edge is blunt and thicker: thin it and set the bevel again. Keep it cool; a tip heats first (common practice, no source)."));
        return notes;
    }

    private static ReshapeOutcome.Refused Refuse(string code, FormattableString text) =>
        new([new Reason(code, text.ToString(CultureInfo.InvariantCulture))]);
}
