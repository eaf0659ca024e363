namespace Whetwright.Workbench;

/// <summary>What to try next when a burr will not come off, in this order (common practice, no source).</summary>
public static class BurrSteps
{
    /// <summary>The steps.</summary>
    public static IReadOnlyList<string> All { get; } =
    [
        "Lighter, and alternate sides with every pass: the weight of the hand, no more.",
        "Raise the angle a degree or two for a few light passes: they cut the burr at its root. Note the angle.",
        "A finer abrasive at the same angle, then the strop again.",
        "A softer medium: leather in place of felt, or bare leather without compound; edge trailing.",
        "Still there: the steel is soft or was overheated. Grind past what is blued; if it bends again, say so to the owner and write it into the note. It is kept with the visit.",
    ];

    /// <summary>What to try after so many times that it stayed.</summary>
    /// <param name="stayed">How often it was said that the burr stays, 1 or more.</param>
    public static string After(int stayed) => All[Math.Clamp(stayed, 1, All.Count) - 1];
}
