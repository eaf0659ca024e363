using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <content>
/// Light that the camera cut off was at least what it shows: a place of it is a misfit only where what explains it is darker. Such places count as others do while they are too dark and not at all
/// while they are bright enough, which is settled by looking again (an active set). A bevel or a flank that mirrors a lamp may then be as bright as its blurred rim shows it, and the edge beside it lies
/// where that rim has it, not half way up to the cut.
/// </content>
internal sealed partial class TipPatch
{
    /// <summary>A pixel brighter than this in any channel the camera may have cut off. Chosen.</summary>
    private const double Full = 0.95;

    /// <summary>A place read between pixels is cut off where more than this share of it comes from such pixels. Chosen.</summary>
    private const double CutShare = 0.1;

    /// <summary>So often at most the tones are solved for places that turn out too dark. Chosen: seldom more than three times are needed.</summary>
    private const int MostLooks = 5;

    /// <summary>Whether light at a place of the photo was cut off.</summary>
    public static bool IsCut(PhotoSampler sampler, Point2 px) => sampler.ShareAbove(px, Full) > CutShare;

    /// <summary>Solves the tones, then again with those cut-off places that they leave too dark, until these stay the same.</summary>
    /// <param name="solve">Solves them for weights.</param>
    /// <param name="left">What tones leave of what is seen.</param>
    private (Solved Solved, double[] Left) AboveTheCut(Func<double[], Solved> solve, Func<double[], double[]> left)
    {
        double[] weight = _weight;
        Solved solved = solve(weight);
        double[] residual = left(solved.Tones);
        for (int looks = 1; looks < MostLooks && TooDark(residual, weight) is { } counted; looks++)
        {
            weight = counted;
            solved = solve(weight);
            residual = left(solved.Tones);
        }

        return (solved, residual);
    }

    /// <summary>Weights with those cut-off places that are explained by less light than they show; null where they are the same as before.</summary>
    private double[]? TooDark(double[] residual, double[] before)
    {
        double[] weight = [.. _weight.Select((w, k) => _cut[k] > 0 && residual[k] > 0 ? _cut[k] : w)];
        return weight.AsSpan().SequenceEqual(before) ? null : weight;
    }
}
