namespace Whetwright.Records.Shop;

/// <summary>Work that is waiting: bench minutes and the day they are promised for.</summary>
/// <param name="PromisedFor">The day; null for any.</param>
/// <param name="Minutes">Bench minutes left.</param>
public sealed record Waiting(DateOnly? PromisedFor, double Minutes);

/// <summary>One coming day.</summary>
/// <param name="Day">Which.</param>
/// <param name="BenchMinutes">Minutes at the bench that it has.</param>
/// <param name="DueMinutes">Minutes of work promised for it; on the first day what is late and what nobody promised, too.</param>
/// <param name="SpareMinutes">What could still be promised for that day without breaking a promise for a later one; never below 0.</param>
public sealed record DayLoad(DateOnly Day, double BenchMinutes, double DueMinutes, double SpareMinutes);

/// <summary>How full the coming days are, and the promise that follows.</summary>
public static class Load
{
    /// <summary>
    /// The coming days. Work due by a day fits when Σ due ≤ Σ bench minutes over the days up to it (earliest promise first); what is spare on day d is
    /// the smallest of Σ bench − Σ due over d and every later day.
    /// </summary>
    /// <param name="card">Minutes per day and bench days.</param>
    /// <param name="waiting">Work that is here.</param>
    /// <param name="today">The first day; its whole bench time counts, as nobody notes the time of day.</param>
    /// <param name="days">How many days to look at, 1 or more.</param>
    public static IReadOnlyList<DayLoad> Days(ShopCard card, IReadOnlyCollection<Waiting> waiting, DateOnly today, int days)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        double[] bench = new double[days], due = new double[days], left = new double[days], spare = new double[days];
        foreach (Waiting work in waiting)
        {
            int day = Math.Max(0, (work.PromisedFor ?? today).DayNumber - today.DayNumber);
            if (day < days)
                due[day] += work.Minutes;
        }

        double sum = 0;
        for (int i = 0; i < days; i++)
        {
            bench[i] = IsBenchDay(card, today.AddDays(i)) ? card.MinutesPerDay : 0;
            left[i] = sum += bench[i] - due[i];
        }

        double least = double.PositiveInfinity;
        for (int i = days - 1; i >= 0; i--)
            spare[i] = Math.Max(0, least = Math.Min(least, left[i]));
        return [.. Enumerable.Range(0, days).Select(i => new DayLoad(today.AddDays(i), bench[i], due[i], spare[i]))];
    }

    /// <summary>The earliest bench day after today that so many minutes can be promised for; null where none of the days has room.</summary>
    public static DateOnly? Promise(IReadOnlyList<DayLoad> days, double minutes) =>
        days.Skip(1).FirstOrDefault(d => d.BenchMinutes > 0 && d.SpareMinutes >= minutes)?.Day;

    /// <summary>True where the shop has bench time on that day of the week.</summary>
    public static bool IsBenchDay(ShopCard card, DateOnly day)
    {
        int index = ((int)day.DayOfWeek + 6) % 7;
        return index < card.BenchDays.Length && card.BenchDays[index] == '1';
    }
}
