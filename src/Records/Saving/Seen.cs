namespace Whetwright.Records.Saving;

/// <summary>What a form had seen of a kind of fact when it was shown, so that a second tab is told instead of writing over the first.</summary>
public readonly record struct Seen
{
    private Seen(bool checks, long? latest)
    {
        Checks = checks;
        Latest = latest;
    }

    /// <summary>False where nothing is compared.</summary>
    public bool Checks { get; }

    /// <summary>The latest fact of the kind that the form knew of; null for none.</summary>
    public long? Latest { get; }

    /// <summary>Nothing is compared: for counts that several devices add to. The default.</summary>
    public static Seen Anything => default;

    /// <summary>The form showed no such fact.</summary>
    public static Seen Nothing { get; } = new(checks: true, latest: null);

    /// <summary>The form showed this fact as the latest; null for none.</summary>
    public static Seen Fact(long? id) => new(checks: true, id);
}
