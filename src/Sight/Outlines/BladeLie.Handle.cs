namespace Whetwright.Sight.Outlines;

/// <content>The handle or tang, told by where the outline steps up from it to the blade.</content>
internal sealed partial class BladeLie
{
    /// <summary>A handle or tang is at least this long. Chosen, not derived.</summary>
    private const double ShortestHandleMm = 30;

    /// <summary>A handle that a hand holds is at least this long; what is told by its breadth alone must be, for steel that is lost to the paper leaves shorter stumps. Chosen.</summary>
    private const double ShortestGripMm = 60;

    /// <summary>A handle as broad as its blade is at least so many times longer than broad, also where the mat ends before it. Chosen.</summary>
    private const double LeastSlender = 1.6;

    /// <summary>A hand does not close around anything broader, mm; its shadow included. Common practice, no source.</summary>
    private const double BroadestGripMm = 50;

    /// <summary>Least step of the outline from blade to handle, both sides together, mm. Chosen: above a bolster's or a shadow's.</summary>
    private const double LeastStepMm = 1.8;

    /// <summary>The same as a share of the blade's width: a broad blade's handle is far narrower than it. Chosen.</summary>
    private const double LeastStepShare = 0.05;

    /// <summary>Both sides draw in by this much at a neck, mm. Chosen: on 239 rendered blades those with a handle alone do so.</summary>
    private const double LeastNeckMm = 0.8;

    /// <summary>A blade this many times broader than the handle beside their neck is told from it by that. Chosen.</summary>
    private const double BroaderAtNeck = 1.25;

    /// <summary>A step this much further on than a neck's end is another thing's, mm. Chosen.</summary>
    private const double StepAfterNeckMm = 8;

    /// <summary>A plain step so many times a neck's depth tells the handle, not the neck. Chosen.</summary>
    private const double PlainOverNeck = 4;

    /// <summary>What comes back does so by this share of the step, and runs evenly so far before and after, mm. Chosen.</summary>
    private const double BackShare = 0.6, BackOverMm = 6;

    /// <summary>A jump of the width by this much within 2.5 mm is a step however much more the blade is broader: a cleaver's heel slants a little. Chosen.</summary>
    private const double PlainJumpMm = 6;

    /// <summary>
    /// The innermost place where the outline steps up from a handle or tang at this end to the blade: blade beyond it, no second step up after.
    /// </summary>
    private (double At, double Low, double High, double Score) Handle()
    {
        int n = Low.Length;
        int reach = (int)(3.5 / StationMm);
        int behind = (int)(22 / StationMm);
        var steps = new List<(double At, double Low, double High, double Score)>();
        for (int i = (int)(ShortestHandleMm / StationMm); i < n - (int)(25 / StationMm); i++)
        {
            // Ahead: the blade's own sides a little further on; behind: the handle's outermost over its first centimetres, its neck left out.
            (double aheadLow, double aheadHigh) = (Quantile(Low, i + reach, i + (2 * reach), 0.5), Quantile(High, i + reach, i + (2 * reach), 0.5));
            (double backLow, double backHigh) = (Quantile(Low, i - behind, i - 1, 0.15), Quantile(High, i - behind, i - 1, 0.85));
            double low = backLow - aheadLow;
            double high = aheadHigh - backHigh;
            // A step, not a slope: the blade goes on evenly and the handle too.
            double slopeLow = Quantile(Low, i + reach, i + (2 * reach), 0.5) - Quantile(Low, i + (2 * reach), i + (3 * reach), 0.5);
            double slopeHigh = Quantile(High, i + (2 * reach), i + (3 * reach), 0.5) - Quantile(High, i + reach, i + (2 * reach), 0.5);
            double step = Math.Max(low - (2 * Math.Max(0, slopeLow)), high - (2 * Math.Max(0, slopeHigh)));
            if (step < LeastStepMm || low + high < LeastStepMm)
                continue;
            // The step is where the width jumps most within the reach.
            double jump = Width(Math.Min(n - 1, i + 2)) - Width(Math.Max(0, i - 3));
            if (jump < Math.Min(0.5 * step, PlainJumpMm))
                continue;
            // Behind it handle-like: no wider anywhere than the blade is there, and not a blade's taper.
            double widestBehind = Enumerable.Range(0, i - 2).Select(Width).Order().ElementAt((int)(0.9 * (i - 3)));
            double ahead = aheadHigh - aheadLow;
            if (step < LeastStepShare * ahead)
                continue;
            // No broader than a hand holds, nor than it is long. A handle's end may be rounded or partly as bright as the paper; a blade's point narrows over more than that.
            double end = Enumerable.Range(0, Math.Min((i - 3) / 4, (int)(28 / StationMm))).Select(Width).Order().ElementAt(Math.Min((i - 3) / 4, (int)(28 / StationMm)) / 2);
            double usual = Enumerable.Range(0, i - 2).Select(Width).Order().ElementAt((i - 3) / 2);
            if (widestBehind > ahead || end < 0.55 * usual || usual > Math.Min(BroadestGripMm, i * StationMm))
                continue;
            steps.Add((i * StationMm, Math.Max(0, low), Math.Max(0, high), jump));
        }

        if (steps.Count == 0)
            return (0, 0, 0, 0);

        // The outline may jump onto a shadow's rim beside the blade and come back: no step of the blade's.
        steps = steps.Where(s => !ComesBack(s.At, s.Low, s.High)).DefaultIfEmpty(steps.MaxBy(s => s.Score)).ToList();

        // A tang may step twice: the step that is the blade's is the innermost of the large ones, at its steepest.
        double largest = steps.Max(s => s.Score);
        double large = Math.Min(largest, Math.Max(1, 0.35 * largest));
        double inner = steps.Where(s => s.Score >= large).Max(s => s.At);
        return steps.Where(s => s.At > inner - 3).MaxBy(s => s.Score);
    }

    /// <summary>Whether the side that stands out at a step falls back by as much at once further on, and then runs on: a blade's own side narrows to its tip, and slowly.</summary>
    private bool ComesBack(double atMm, double low, double high)
    {
        (double[] side, double sign, double step) = high > low ? (High, 1, high) : (Low, -1, low);
        int at = (int)(atMm / StationMm);
        int once = (int)(AtOnceMm / 2 / StationMm);
        int on = (int)(BackOverMm / StationMm);
        return Enumerable.Range(at + on, Math.Max(0, Low.Length - at - (4 * on))).Any(i => sign * (side[i] - side[i + once]) > BackShare * step
            && Math.Abs(side[i + once + on] - side[i + once]) < (1 - BackShare) * step && Math.Abs(side[i - on] - side[i]) < (1 - BackShare) * step);
    }

    /// <summary>
    /// The lie that a neck tells; null where there is none, or where a step right behind it says the same and more exactly. The blade is on the side that is
    /// clearly broader beside the neck, else on the side that narrows to its end.
    /// </summary>
    private static BladeLie? ByNeck(BladeLie[] ends, (BladeLie End, double AtMm, double JumpMm)? step)
    {
        if (ends[0].Neck() is not { } neck)
            return null;
        if (step is { JumpMm: > PlainJumpMm } plain && plain.JumpMm > PlainOverNeck * neck.DeepMm)
        {
            // Both sides of a blade may run onto a shadow's rim and back, which looks like a neck far out on it.
            double neckMm = (neck.From + neck.To + 1) * StationMm / 2;
            if ((ReferenceEquals(plain.End, ends[0]) ? neckMm : ends[0].EndMm - neckMm) > plain.AtMm + StepAfterNeckMm)
                return null;
        }

        bool first = true;
        if (ends.Length > 1)
        {
            int n = ends[0].Low.Length;
            double before = ends[0].WidthAbout(neck.From - (int)(8 / StationMm));
            double after = ends[0].WidthAbout(neck.To + (int)(8 / StationMm));
            first = Math.Max(before, after) > BroaderAtNeck * Math.Min(before, after) ? after > before : ends[0].EndWidth() >= ends[1].EndWidth();
            neck = first ? neck : neck with { From = n - 1 - neck.To, To = n - 1 - neck.From };
        }

        BladeLie lie = ends[first ? 0 : 1];
        if (!lie.Gripped(neck.From * StationMm))
            return null;
        return step is var (end, at, _) && ReferenceEquals(end, lie) && at > (neck.From * StationMm) - StepAfterNeckMm && at < (neck.To * StationMm) + StepAfterNeckMm
            ? null
            : lie.WithNeck((neck.From, neck.To));
    }

    /// <summary>Whether what lies before a place is no broader than a hand can hold.</summary>
    private bool Gripped(double toMm) => Quantile([.. Enumerable.Range(0, Low.Length).Select(Width)], 0, (int)(toMm / StationMm), 0.5) < BroadestGripMm;

    /// <summary>Whether what lies before a place is as slender as a handle: a blade's rear part is not.</summary>
    private bool Slender(double toMm) => toMm > LeastSlender * Quantile([.. Enumerable.Range(0, Low.Length).Select(Width)], 0, (int)(toMm / StationMm), 0.5);

    private double WidthAbout(int station) => Enumerable.Range(station - 8, 17).Select(i => Width(Math.Clamp(i, 0, Low.Length - 1))).Order().ElementAt(8);

    /// <summary>
    /// The neck between handle and blade: the deepest place, a few millimetres long, where both sides draw in and come out again. Chips, words and shadows touch one side only. Null
    /// where there is none.
    /// </summary>
    private (int From, int To, double DeepMm)? Neck()
    {
        int near = (int)(4 / StationMm);
        int far = (int)(13 / StationMm);
        double deepest = LeastNeckMm;
        int? at = null;
        for (int i = (int)(ShortestHandleMm / StationMm); i < Low.Length - (int)(25 / StationMm); i++)
        {
            double dip = DipAt(i);
            if (dip > deepest)
                (deepest, at) = (dip, i);
        }

        if (at is not { } middle)
            return null;
        double half = Width(middle) + deepest;
        int from = middle;
        int to = middle;
        while (from > middle - far && Width(from) < half)
            from--;
        while (to < middle + far && Width(to) < half)
            to++;
        return (from, to, deepest);

        // How far the less drawn in of both sides lies inside what is before and after.
        double DipAt(int i)
        {
            double low = Math.Min(Low[i], Low[i + 1]) - Math.Max(Quantile(Low, i - far, i - near, 0.8), Quantile(Low, i + near, i + far, 0.8));
            double high = Math.Min(Quantile(High, i - far, i - near, 0.2), Quantile(High, i + near, i + far, 0.2)) - Math.Max(High[i], High[i + 1]);
            return Math.Min(low, high);
        }
    }

    /// <summary>The blade begins behind its neck; how far it stands out over the handle is seen from both sides' straight lines, carried on.</summary>
    private BladeLie WithNeck((int From, int To) neck)
    {
        double at = (neck.To + 0.5) * StationMm;
        (int From, int To) behind = (Math.Max(0, neck.From - (int)(25 / StationMm)), neck.From - (int)(2 / StationMm));
        (int From, int To) ahead = (neck.To + (int)(3 / StationMm), Math.Min(Low.Length - 1, neck.To + (int)(20 / StationMm)));
        double Line(double[] side, (int From, int To) over)
        {
            int[] i = [.. Enumerable.Range(over.From, over.To - over.From)];
            return RobustPolynomial.Fit([.. i.Select(k => (k + 0.5) * StationMm)], [.. i.Select(k => side[k])], 1, 0.3).At(at);
        }

        double low = Line(Low, behind) - Line(Low, ahead);
        double high = Line(High, ahead) - Line(High, behind);
        return With(neck.To * StationMm, (Math.Max(0, low), Math.Max(0, high)), necked: true);
    }
}
