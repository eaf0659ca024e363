using Whetwright.Core.Quantities;

namespace Whetwright.Workbench;

/// <summary>Reasons as people at the bench read them: Core names the keys of our files, a page names what was measured.</summary>
public static class PlainWords
{
    private static readonly (string Key, string Words)[] Keys =
    [
        ("removalMm3PerMinute", "rate of removal"), ("behindEdgeMm", "the thickness behind the edge"), ("primaryHalfDeg", "the primary half-angle"), ("landMm", "the dull land"),
        ("heightMm", "the height at the heel"), ("microWidthMm", "the micro-bevel's width"), ("chipDepthMm", "the chip's depth"), ("chipAtMm", "the chip's place"), ("chipMm", "the chip"),
        ("spineMm", "the spine"), ("edgeMm", "the outline"), ("lengthMm", "the length"), ("atMm", "where it begins"), ("bolsterThicknessMm", "the bolster's thickness"), ("bolsterClearanceMm", "the bolster's clearance"),
        ("angleDeg", "the angle"), ("bendMm", "the bend"),
    ];

    /// <summary>The same reason with keys put into words.</summary>
    public static Reason Of(Reason reason)
    {
        string text = reason.Text;
        foreach ((string key, string words) in Keys)
            text = text.Replace(key, words, StringComparison.Ordinal);
        return text == reason.Text ? reason : reason with { Text = char.ToUpperInvariant(text[0]) + text[1..] };
    }

    /// <summary>All of them.</summary>
    public static IReadOnlyList<Reason> Of(IEnumerable<Reason> reasons) => [.. reasons.Select(Of)];
}
