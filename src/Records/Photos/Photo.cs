using Whetwright.Records.Visits;

namespace Whetwright.Records.Photos;

/// <summary>What a photo shows.</summary>
public enum PhotoSubject
{
    /// <summary>The piece as a whole.</summary>
    Piece = 0,

    /// <summary>Damage at intake.</summary>
    Damage = 1,

    /// <summary>Marks of the laser on the target.</summary>
    Marks = 2,

    /// <summary>The blade on the mat.</summary>
    Outline = 3,

    /// <summary>The edge after the work.</summary>
    After = 4,
}

/// <summary>A photo: its bytes lie beside the database under their hash.</summary>
public sealed class Photo
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>SHA-256 of the bytes kept, lower-case hexadecimal.</summary>
    public required string Hash { get; init; }

    /// <summary>"image/jpeg" or "image/png", from the bytes and never from the name.</summary>
    public required string ContentType { get; init; }

    /// <summary>Bytes.</summary>
    public long Bytes { get; init; }

    /// <summary>Width, px.</summary>
    public int WidthPx { get; init; }

    /// <summary>Height, px.</summary>
    public int HeightPx { get; init; }

    /// <summary>What it shows.</summary>
    public PhotoSubject Subject { get; init; }

    /// <summary>The visit.</summary>
    public long? VisitId { get; init; }

    /// <summary>The visit.</summary>
    public Visit? Visit { get; init; }

    /// <summary>When it was taken, or when it came, UTC.</summary>
    public required DateTime HappenedAt { get; init; }

    /// <summary>When it came, UTC.</summary>
    public required DateTime EnteredAt { get; init; }
}
