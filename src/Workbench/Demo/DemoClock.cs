namespace Whetwright.Workbench.Demo;

/// <summary>The clock of an invented shop: stands where the story is.</summary>
public sealed class DemoClock : TimeProvider
{
    private DateTime now = DateTime.UnixEpoch;

    /// <summary>Moves on; never back.</summary>
    public void MoveTo(DateTime utc) => now = utc > now ? utc : now;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => new(now, TimeSpan.Zero);
}
