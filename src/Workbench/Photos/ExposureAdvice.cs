using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Workbench.Photos;

/// <summary>What to change before the next photo of the marks. Limits are chosen, not derived.</summary>
public static class ExposureAdvice
{
    private const double BurntOut = 0.3;
    private const double Faint = 40;

    /// <summary>Advice on the marks that the angles rest on; empty where the photo is well exposed.</summary>
    public static IReadOnlyList<Reason> For(MarksInPhotos marks)
    {
        List<Reason> advice = [];
        for (int i = 0; i < marks.Mounts.Count; i++)
        {
            MountInPhoto mount = marks.Mounts[i];
            string where = marks.Mounts.Count == 1 ? "" : FormattableString.Invariant($"Photo {i + 1}: ");
            int[] burnt = Numbers(mount, m => m.BurntOut > BurntOut), faint = Numbers(mount, m => m.SignalToNoise < Faint);
            if (burnt.Length > 0)
                advice.Add(new("burnt-out", $"{where}{Words(burnt)} burnt out, so where the light begins is blurred. {(mount.DarkId is null ? "Expose darker, add a dark photo, or move the lamp." : "Expose the dark photo shorter.")}"));
            if (faint.Length > 0)
                advice.Add(new("faint", $"{where}{Words(faint)} faint. {(mount.DarkId is null ? "Darken the room, expose longer, or add a dark photo exposed for the marks." : "Expose the dark photo longer.")}"));
        }

        return advice;
    }

    private static int[] Numbers(MountInPhoto mount, Func<MarkInPhoto, bool> which) =>
        [.. mount.Marks.Where(m => m is { Used: true, Seen: not null, Role: MarkRole.Edge } && which(m)).Select(m => m.Number)];

    private static string Words(int[] numbers) => numbers.Length == 1
        ? FormattableString.Invariant($"Mark {numbers[0]} is")
        : $"Marks {string.Join(" and ", numbers)} are";
}
