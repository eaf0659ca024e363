using System.Net;

namespace Whetwright.Web.Doors;

/// <summary>Counts wrong passphrases by address and over all; in memory, bounded.</summary>
/// <param name="time">The time.</param>
/// <param name="limits">How patient.</param>
internal sealed class LockOut(TimeProvider time, DoorLimits limits)
{
    private const string Anywhere = "*";
    private const int MostAddresses = 4096;

    private readonly Lock gate = new();
    private readonly Dictionary<string, (int Wrong, DateTimeOffset Until)> counts = new(StringComparer.Ordinal);

    /// <summary>How long this address still has to wait; null where it may try.</summary>
    public TimeSpan? Waits(IPAddress? from)
    {
        lock (gate)
            return Left(Key(from), limits.WrongPassphrases) ?? (IsMachine(from) ? null : Left(Anywhere, limits.WrongFromAnywhere));
    }

    /// <summary>It was wrong.</summary>
    public void Wrong(IPAddress? from)
    {
        lock (gate)
        {
            Count(Key(from));
            if (!IsMachine(from))
                Count(Anywhere);
        }
    }

    /// <summary>It was right: the address starts anew.</summary>
    public void Right(IPAddress? from)
    {
        lock (gate)
            counts.Remove(Key(from));
    }

    private TimeSpan? Left(string key, int most) =>
        counts.TryGetValue(key, out var count) && count.Wrong >= most && time.GetUtcNow() < count.Until ? count.Until - time.GetUtcNow() : null;

    private void Count(string key)
    {
        DateTimeOffset now = time.GetUtcNow();
        int before = counts.TryGetValue(key, out var count) && now < count.Until ? count.Wrong : 0;
        if (counts.Count >= MostAddresses)
        {
            foreach (string old in counts.OrderBy(c => c.Value.Until).Take(MostAddresses / 4).Select(c => c.Key).ToArray())
                counts.Remove(old);
        }

        counts[key] = (before + 1, now + limits.LockedOut);
    }

    private static bool IsMachine(IPAddress? from) => from is not null && IPAddress.IsLoopback(from);

    /// <summary>The address; of IPv6 the network, since one device has many of them.</summary>
    private static string Key(IPAddress? from)
    {
        if (from is null)
            return "?";
        IPAddress plain = from.IsIPv4MappedToIPv6 ? from.MapToIPv4() : from;
        byte[] bytes = plain.GetAddressBytes();
        return Convert.ToHexString(bytes.Length == 16 ? bytes.AsSpan(0, 8) : bytes);
    }
}
