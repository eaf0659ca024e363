namespace Whetwright.Records.Standing;

/// <summary>A diameter entry as it bears on settings.</summary>
/// <param name="Id">Key.</param>
/// <param name="WheelId">The wheel.</param>
/// <param name="DiameterMm">Diameter, mm.</param>
/// <param name="At">When it was measured, UTC.</param>
/// <param name="CorrectsId">The entry it corrects.</param>
/// <param name="Withdrawn">Takes that entry back.</param>
public sealed record DiameterGlance(long Id, long WheelId, double DiameterMm, DateTime At, long? CorrectsId, bool Withdrawn);

/// <summary>All wheels' diameters: which entry of each is today's.</summary>
public sealed class WheelDiameters
{
    private readonly Dictionary<long, DiameterGlance> byId;
    private readonly Dictionary<long, DiameterGlance> todays;

    /// <summary>From every entry, corrected ones too.</summary>
    public WheelDiameters(IReadOnlyCollection<DiameterGlance> entries)
    {
        byId = entries.ToDictionary(e => e.Id);
        HashSet<long> corrected = [.. entries.Where(e => e.CorrectsId is not null).Select(e => e.CorrectsId!.Value)];
        todays = entries.Where(e => !e.Withdrawn && !corrected.Contains(e.Id))
            .GroupBy(e => e.WheelId)
            .ToDictionary(g => g.Key, g => g.OrderBy(e => e.At).ThenBy(e => e.Id).Last());
    }

    /// <summary>Nothing measured.</summary>
    public static WheelDiameters None { get; } = new([]);

    /// <summary>Today's entry of a wheel: the latest that stands; null where it was never measured.</summary>
    public DiameterGlance? Today(long wheelId) => todays.GetValueOrDefault(wheelId);

    /// <summary>The wheels of these pinned entries whose diameter is another today.</summary>
    public IReadOnlyList<StaleWheel> Stale(IEnumerable<long> pinned)
    {
        List<StaleWheel> stale = [];
        foreach (long id in pinned)
        {
            if (byId.GetValueOrDefault(id) is not { } used)
                continue;
            DiameterGlance? today = Today(used.WheelId);
            if (today?.Id != used.Id)
                stale.Add(new StaleWheel(used.WheelId, used.Id, used.DiameterMm, today?.Id, today?.DiameterMm));
        }

        return stale;
    }
}

/// <summary>A wheel that is no longer as a setting took it.</summary>
/// <param name="WheelId">The wheel.</param>
/// <param name="PinnedId">The entry that the setting used.</param>
/// <param name="PinnedMm">Its diameter, mm.</param>
/// <param name="TodayId">Today's entry; null where none stands.</param>
/// <param name="TodayMm">Its diameter, mm.</param>
public sealed record StaleWheel(long WheelId, long PinnedId, double PinnedMm, long? TodayId, double? TodayMm);
