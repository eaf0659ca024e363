using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace Whetwright.Web.Features.Book.Importing;

/// <summary>A table that was sent and waits to be accepted.</summary>
/// <param name="Text">The CSV.</param>
/// <param name="FileName">As the device called it.</param>
/// <param name="Pieces">Pieces, else owners.</param>
/// <param name="Came">When it came.</param>
internal sealed record WaitingTable(string Text, string FileName, bool Pieces, DateTimeOffset Came);

/// <summary>Keeps sent tables in memory while somebody looks them through: nothing of them is in the book or on the disk until they are accepted.</summary>
/// <param name="time">The time.</param>
internal sealed class ImportShelf(TimeProvider time)
{
    /// <summary>How long a table waits. Chosen, not derived.</summary>
    public static TimeSpan Waits { get; } = TimeSpan.FromHours(1);

    private const int Most = 8; // tables at once; the oldest gives way

    private readonly ConcurrentDictionary<string, WaitingTable> tables = new(StringComparer.Ordinal);

    /// <summary>Puts a table there; its token leads to it.</summary>
    public string Put(string text, string fileName, bool pieces)
    {
        foreach ((string old, _) in tables.Where(t => time.GetUtcNow() - t.Value.Came > Waits).ToArray())
            tables.TryRemove(old, out _);
        foreach ((string old, _) in tables.OrderBy(t => t.Value.Came).Take(Math.Max(0, tables.Count - Most + 1)).ToArray())
            tables.TryRemove(old, out _);
        string token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        tables[token] = new(text, fileName, pieces, time.GetUtcNow());
        return token;
    }

    /// <summary>The table; null where it waited too long or was accepted.</summary>
    public WaitingTable? Find(string token) => tables.TryGetValue(token, out WaitingTable? table) && time.GetUtcNow() - table.Came <= Waits ? table : null;

    /// <summary>Takes it off the shelf.</summary>
    public void Drop(string token) => tables.TryRemove(token, out _);
}
