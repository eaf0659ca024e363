using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>What masks of the mat (255 on, 0 off) are cleaned with.</summary>
internal static class Masks
{
    /// <summary>Takes away every connected piece smaller than so many cells.</summary>
    public static void KeepLarge(Mat mask, int leastCells)
    {
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(mask, labels, stats, centres);
        labels.GetArray(out int[] label);
        int[] area = [.. Enumerable.Range(0, n).Select(i => stats.At<int>(i, (int)ConnectedComponentsTypes.Area))];
        mask.SetArray([.. label.Select(l => l > 0 && area[l] >= leastCells ? (byte)255 : (byte)0)]);
    }
}
