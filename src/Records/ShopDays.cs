namespace Whetwright.Records;

/// <summary>Days as the shop counts them.</summary>
public static class ShopDays
{
    /// <summary>When a day begins there, UTC. Where midnight falls into a change of the clocks, the first moment of the day.</summary>
    public static DateTime StartOf(DateOnly day, TimeZoneInfo zone)
    {
        DateTime midnight = day.ToDateTime(TimeOnly.MinValue, DateTimeKind.Unspecified);
        while (zone.IsInvalidTime(midnight))
            midnight = midnight.AddMinutes(15);
        TimeSpan offset = zone.IsAmbiguousTime(midnight) ? zone.GetAmbiguousTimeOffsets(midnight).Max() : zone.GetUtcOffset(midnight);
        return DateTime.SpecifyKind(midnight - offset, DateTimeKind.Utc);
    }

    /// <summary>The day a moment lies in there.</summary>
    public static DateOnly DayOf(DateTime utc, TimeZoneInfo zone) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), zone));

    /// <summary>The shop's zone; UTC where its name is not known on this machine.</summary>
    public static TimeZoneInfo Zone(this Shop.ShopCard card) =>
        TimeZoneInfo.TryFindSystemTimeZoneById(card.TimeZone, out TimeZoneInfo? zone) ? zone : TimeZoneInfo.Utc;
}
