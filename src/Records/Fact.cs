namespace Whetwright.Records;

/// <summary>
/// Something that happened and was entered. A fact is never changed or deleted: a later fact of the same kind that names it in
/// <see cref="CorrectsId"/> takes its place, or takes it back when <see cref="Withdrawn"/> is set.
/// </summary>
public abstract class Fact
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>When it happened at the bench or the counter, UTC.</summary>
    public required DateTime HappenedAt { get; init; }

    /// <summary>When it was entered, UTC: later than <see cref="HappenedAt"/> where it was written on paper first.</summary>
    public required DateTime EnteredAt { get; init; }

    /// <summary>Who entered it: the name of a person or a device; null for the master at the machine.</summary>
    public string? EnteredBy { get; init; }

    /// <summary>The earlier fact of the same kind that this one corrects.</summary>
    public long? CorrectsId { get; init; }

    /// <summary>With <see cref="CorrectsId"/>: that fact is taken back and nothing stands in its place.</summary>
    public bool Withdrawn { get; init; }
}

/// <summary>A fact of one visit.</summary>
public abstract class VisitFact : Fact
{
    /// <summary>The visit.</summary>
    public long VisitId { get; init; }

    /// <summary>The visit.</summary>
    public Visits.Visit? Visit { get; init; }
}

/// <summary>Something that people edit in place and two may edit at once: the second save is told.</summary>
public interface IVersioned
{
    /// <summary>Counts the saves; the concurrency token.</summary>
    int Version { get; set; }
}
