using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Whetwright.Records.Shop;

namespace Whetwright.Records.Changes;

/// <summary>Sees what a save is about to do and writes the list of changes in the same transaction.</summary>
internal sealed class ChangeWatch
{
    private const int MostFields = 400; // characters of names kept: chosen, not derived

    private readonly List<(EntityEntry Row, string Verb, string? Fields)> seen = [];
    private readonly Acting acting;

    private ChangeWatch(Acting acting) => this.acting = acting;

    /// <summary>What is about to be saved; null where nobody is named or nothing is to be told.</summary>
    public static ChangeWatch? Of(ChangeTracker tracker)
    {
        if (Acting.Now is not { } acting)
            return null;
        ChangeWatch watch = new(acting);
        foreach (EntityEntry row in tracker.Entries())
        {
            if (row.Entity is Submission or Change)
                continue;
            if (row is { State: EntityState.Added, Entity: Fact { EnteredBy: null } } && acting.Name is not null)
                row.Property(nameof(Fact.EnteredBy)).CurrentValue = acting.Name;
            if (Verb(row) is { } verb)
                watch.seen.Add((row, verb, row.State == EntityState.Modified ? Fields(row) : null));
        }

        return watch.seen.Count == 0 ? null : watch;
    }

    /// <summary>The rows for the list; call after the save, when keys are known.</summary>
    public IEnumerable<Change> Rows(DateTime now) => seen.Select(s => new Change
    {
        EnteredAt = now,
        By = acting.Name,
        RequestId = acting.RequestId,
        Verb = s.Verb,
        Kind = s.Row.Metadata.ClrType.Name,
        RowId = s.Row.Metadata.FindPrimaryKey()?.Properties is [{ ClrType: var type } key] && type == typeof(long) ? (long?)s.Row.Property(key.Name).CurrentValue : null,
        Fields = s.Fields,
    });

    private static string? Verb(EntityEntry row) => row switch
    {
        { State: EntityState.Added, Entity: Fact { Withdrawn: true } } => "taken back",
        { State: EntityState.Added, Entity: Fact { CorrectsId: not null } } => "corrected",
        { State: EntityState.Added } => "added",
        { State: EntityState.Modified } => "changed",
        { State: EntityState.Deleted } => "removed",
        _ => null,
    };

    private static string Fields(EntityEntry row)
    {
        string names = string.Join(", ", row.Properties.Where(p => p.IsModified && p.Metadata.Name != nameof(IVersioned.Version)).Select(p => p.Metadata.Name));
        return names.Length <= MostFields ? names : names[..MostFields];
    }
}
