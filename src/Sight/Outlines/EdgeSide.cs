using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>One long side of the blade as a stretch of its outline: the edge, or the spine taken for it.</summary>
/// <param name="From">Index of the heel's corner in the outline.</param>
/// <param name="To">Index of the tip's corner.</param>
/// <param name="Forward">Whether the outline runs from heel to tip with growing index.</param>
/// <param name="High">Whether it is the side of growing t in the frame of <see cref="BladeLie"/>.</param>
/// <param name="DropMm">How far the outline falls back behind the heel.</param>
internal sealed record EdgeSide(int From, int To, bool Forward, bool High, double DropMm)
{
    private const double StepMm = 0.25;

    /// <summary>Over how much of the outline a corner's turn is taken.</summary>
    private const double TurnOverMm = 1.5;

    /// <summary>A heel's corner lies within this of where the handle's step was seen, or the end's slant. Chosen.</summary>
    private const double HeelReachMm = 6;

    /// <summary>The same behind a neck: the handle's corner is on its other side. Chosen.</summary>
    private const double NeckReachMm = 1;

    /// <summary>A handle's other side may begin this much later. Chosen.</summary>
    private const double BolsterMm = 25;

    private const double LeastTurnDeg = 20;

    /// <summary>A handle that lies this far behind the side leaves a corner there, mm. Chosen.</summary>
    private const double LeastDropMm = 1.2;

    /// <summary>A side that is left this far behind the handle's step is left on the handle. Chosen.</summary>
    private const double PastStepMm = 3;

    /// <summary>How far from the handle's step the notch before it is sought. Chosen.</summary>
    private const double NotchReachMm = 4;

    /// <summary>A chip is narrower than this, mm. Chosen.</summary>
    private const double LastingMm = 7;

    public static double OutlineStepMm => StepMm;

    /// <summary>Both long sides of an outline whose points are <see cref="OutlineStepMm"/> apart; null where a side is shorter than 25 mm.</summary>
    public static EdgeSide? Of(Point2[] p, BladeLie lie, bool high)
    {
        double sign = high ? 1 : -1;
        (double S, double T)[] at = [.. p.Select(lie.Of)];
        double[] turn = Turns(p);
        double slant = (0.15 * lie.WidthMm) + HeelReachMm;
        double from = lie.BladeFromMm;
        int middle = Middle(at, lie, sign);

        // The heel: the corner of this side at the blade's beginning, farthest out along the diagonal; the tip: farthest along, leaning to this side.
        int heel = Farthest(at, i => OnSide(at[i], lie, sign) && at[i].S > from - (lie.Necked ? NeckReachMm : HeelReachMm) && at[i].S < from + slant, i => (sign * at[i].T) - at[i].S);
        int tip = Farthest(at, i => at[i].S > lie.EndMm - (0.5 * (lie.EndMm - from)), i => (0.35 * sign * at[i].T) + at[i].S);
        if (lie.HasHandle && (high ? lie.DropMm.High : lie.DropMm.Low) >= LeastDropMm && Leaves(lie, high, slant) is { } leaves)
        {
            // Where the outline leaves the side's own line carried on: no place on the handle, however near.
            double s = leaves;
            int corner = Farthest(at, i => OnSide(at[i], lie, sign) && Math.Abs(at[i].S - s) < 3, i => -Math.Abs(at[i].S - s) + (0.2 * sign * at[i].T));
            heel = corner >= 0 ? corner : heel;
        }
        else if (lie.HasHandle && !lie.Necked && Math.Max(lie.DropMm.Low, lie.DropMm.High) < 1)
        {
            // A handle as wide as the blade: the sharpest corner about where it begins, if there is one; told by its tone it is known better where that is.
            (double before, double after) = lie.ByTone ? (HeelReachMm, HeelReachMm) : (BolsterMm, slant);
            int corner = Farthest(at, i => OnSide(at[i], lie, sign) && at[i].S > from - before && at[i].S < from + after, i => turn[i]);
            heel = corner >= 0 && turn[corner] > LeastTurnDeg ? corner : lie.ByTone ? Farthest(at, i => OnSide(at[i], lie, sign), i => -Math.Abs(at[i].S - from)) : heel;
        }

        if (heel < 0 || tip < 0)
            return null;
        heel = Sharpest(turn, heel, 8);
        tip = Sharpest(turn, tip, 8);
        int n = p.Length;
        bool forward = Contour.Wrap(middle - heel, n) < Contour.Wrap(tip - heel, n);
        return p[heel].DistanceTo(p[tip]) < 25 ? null : new(heel, tip, forward, high, high ? lie.DropMm.High : lie.DropMm.Low);
    }

    /// <summary>Where, going from the blade toward the handle, the side leaves its own straight line for good.</summary>
    private static double? Leaves(BladeLie lie, bool high, double slant)
    {
        const double station = BladeLie.StationMm;
        double sign = high ? 1 : -1;
        double[] side = high ? lie.High : lie.Low;
        int from = (int)((lie.BladeFromMm + slant) / station);
        int to = Math.Min(side.Length - 1, from + (int)(Math.Min(40, 0.35 * (lie.EndMm - lie.BladeFromMm)) / station));
        if (to - from < 16)
            return null;
        RobustPolynomial line = RobustPolynomial.Fit([.. Enumerable.Range(from, to - from).Select(i => (i + 0.5) * station)], [.. Enumerable.Range(from, to - from).Select(i => side[i])], 1, 0.3);
        // A heel that falls back far is told from an outline that jumps to its shadow's rim and back.
        double drop = high ? lie.DropMm.High : lie.DropMm.Low;
        double tolerance = Math.Max(Math.Clamp(0.4 * drop, 0.5, 1.5), Math.Min(0.2 * drop, 4));
        int least = Math.Max(0, (int)((lie.BladeFromMm - HeelReachMm - 2) / station));
        int lasting = (int)(LastingMm / station);
        double Behind(int k) => sign * (line.At((k + 0.5) * station) - side[k]);
        double? leaves = null;
        for (int i = from; leaves is null && i > least; i--)
        {
            if (Enumerable.Range(Math.Max(0, i - lasting), Math.Min(lasting, i)).Count(k => Behind(k) > tolerance) >= lasting - 1)
                leaves = (i + 0.5) * station;
        }

        // A handle whose side lies on the blade's line, a shadow's rim maybe: the notch between them tells where the blade begins.
        return leaves is { } at && at > lie.BladeFromMm - PastStepMm ? leaves : Notch(Behind, (int)(lie.BladeFromMm / station), side.Length) is { } n ? (n + 0.5) * station : leaves;
    }

    // The blade's end of the deepest notch about a station; null where there is none.
    private static int? Notch(Func<int, double> behind, int about, int count)
    {
        int near = (int)(NotchReachMm / BladeLie.StationMm);
        int deepest = Enumerable.Range(Math.Clamp(about - near, 0, count - 1), Math.Min((2 * near) + 1, count - Math.Clamp(about - near, 0, count - 1))).MaxBy(behind);
        if (behind(deepest) < LeastDropMm)
            return null;
        int end = deepest;
        while (end < count - 1 && behind(end) > behind(deepest) / 2)
            end++;
        return end - deepest > 2 * near ? null : end;
    }

    private static bool OnSide((double S, double T) q, BladeLie lie, double sign)
    {
        int i = Math.Clamp((int)(q.S / 0.5), 0, lie.Low.Length - 1);
        double middle = (lie.Low[i] + lie.High[i]) / 2;
        return sign * (q.T - middle) >= 0;
    }

    // A place half way along the blade on this side.
    private static int Middle((double S, double T)[] at, BladeLie lie, double sign)
    {
        double half = (lie.BladeFromMm + lie.EndMm) / 2;
        return Farthest(at, i => Math.Abs(at[i].S - half) < 3, i => sign * at[i].T);
    }

    private static int Farthest((double S, double T)[] at, Func<int, bool> among, Func<int, double> value)
    {
        int best = -1;
        double most = double.NegativeInfinity;
        for (int i = 0; i < at.Length; i++)
        {
            if (among(i) && value(i) > most)
                (best, most) = (i, value(i));
        }

        return best;
    }

    private static int Sharpest(double[] turn, int at, int reach)
    {
        int best = at;
        for (int d = -reach; d <= reach; d++)
        {
            int i = Contour.Wrap(at + d, turn.Length);
            if (turn[i] > turn[best] + 1)
                best = i;
        }

        return best;
    }

    private static double[] Turns(Point2[] p)
    {
        int k = (int)(TurnOverMm / StepMm);
        int n = p.Length;
        double[] turn = new double[n];
        for (int i = 0; i < n; i++)
        {
            Vector2 before = p[i] - p[Contour.Wrap(i - k, n)];
            Vector2 after = p[Contour.Wrap(i + k, n)] - p[i];
            turn[i] = Math.Atan2(before.Cross(after), before.Dot(after)) * 180 / Math.PI;
        }

        return turn;
    }
}
