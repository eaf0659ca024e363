namespace Whetwright.Records;

/// <summary>
/// The time that goes into the book: UTC in whole microseconds (what every database keeps), and within one program never the same
/// twice, so that facts entered one after the other can be told apart.
/// </summary>
/// <param name="time">Source of time.</param>
public sealed class BookClock(TimeProvider time)
{
    private long last;

    /// <summary>Now, UTC.</summary>
    public DateTime Now()
    {
        const long step = TimeSpan.TicksPerMicrosecond;
        while (true)
        {
            long seen = Interlocked.Read(ref last);
            long next = Math.Max(time.GetUtcNow().UtcTicks / step * step, seen + step);
            if (Interlocked.CompareExchange(ref last, next, seen) == seen)
                return new DateTime(next, DateTimeKind.Utc);
        }
    }

    /// <summary>The day it is in the shop.</summary>
    /// <param name="zone">The shop's time zone.</param>
    public DateOnly Today(TimeZoneInfo zone) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(time.GetUtcNow(), zone).DateTime);
}
