namespace Whetwright.Records.Changes;

/// <summary>One row of the book that somebody added, changed or took back: who, when, which; never what stood in it, so no personal data.</summary>
public sealed class Change
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>When it was saved, UTC.</summary>
    public required DateTime EnteredAt { get; init; }

    /// <summary>The device or program; null for the master at the machine.</summary>
    public string? By { get; init; }

    /// <summary>The request, as the log has it.</summary>
    public string? RequestId { get; init; }

    /// <summary>"added", "changed", "corrected", "taken back" or "removed".</summary>
    public required string Verb { get; init; }

    /// <summary>Kind of the row, such as <c>Owner</c>.</summary>
    public required string Kind { get; init; }

    /// <summary>Key of the row; null where it has none of its own.</summary>
    public long? RowId { get; init; }

    /// <summary>Names of the fields that changed, with commas between; null for a new row.</summary>
    public string? Fields { get; init; }
}
