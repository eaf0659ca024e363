namespace Whetwright.Sight.Outlines;

/// <content>The handle or tang, told by where the outline steps up from it to the blade.</content>
internal sealed partial class BladeLie
{
    /// <summary>A handle or tang is at least this long. Chosen, not derived.</summary>
    private const double ShortestHandleMm = 30;

    /// <summary>Least step of the outline from blade to handle, both sides together, mm. Chosen: above a bolster's or a shadow's.</summary>
    private const double LeastStepMm = 1.8;

    /// <summary>The same as a share of the blade's width: a broad blade's handle is far narrower than it. Chosen.</summary>
    private const double LeastStepShare = 0.05;

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
            // A handle's end may be rounded or partly as bright as the paper; a blade's point narrows over more than that.
            double end = Enumerable.Range(0, Math.Min((i - 3) / 4, (int)(28 / StationMm))).Select(Width).Order().ElementAt(Math.Min((i - 3) / 4, (int)(28 / StationMm)) / 2);
            double usual = Enumerable.Range(0, i - 2).Select(Width).Order().ElementAt((i - 3) / 2);
            if (widestBehind > ahead || end < 0.55 * usual)
                continue;
            steps.Add((i * StationMm, Math.Max(0, low), Math.Max(0, high), jump));
        }

        if (steps.Count == 0)
            return (0, 0, 0, 0);

        // A tang may step twice: the step that is the blade's is the innermost of the large ones, at its steepest.
        double large = Math.Max(1, 0.35 * steps.Max(s => s.Score));
        double inner = steps.Where(s => s.Score >= large).Max(s => s.At);
        return steps.Where(s => s.At > inner - 3).MaxBy(s => s.Score);
    }
}
