namespace Whetwright.Records.Money;

/// <summary>Bounds of amounts.</summary>
public static class Amounts
{
    /// <summary>The largest amount in one line, in minor units: catches a slipped separator. Chosen, not derived.</summary>
    public const long Largest = 100_000_000;
}
