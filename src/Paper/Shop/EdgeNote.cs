using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Shop;

/// <summary>What the owner takes home with the piece; numbers are computed elsewhere and only laid out here.</summary>
public sealed record EdgeNote
{
    /// <summary>The shop.</summary>
    public required ShopHead Shop { get; init; }

    /// <summary>Tag number of the visit.</summary>
    public required string Number { get; init; }

    /// <summary>What the piece is.</summary>
    public required string Piece { get; init; }

    /// <summary>The day of the hand-back.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>Whose it is.</summary>
    public string? Owner { get; init; }

    /// <summary>The section before and after, to scale.</summary>
    public SectionView? Section { get; init; }

    /// <summary>The angles, one line each.</summary>
    public IReadOnlyList<NotedAngle> Angles { get; init; } = [];

    /// <summary>More numbers, ready to print: <c>height lost</c>, <c>0.09 mm</c>.</summary>
    public IReadOnlyList<NotedFact> Facts { get; init; } = [];

    /// <summary>What was done.</summary>
    public IReadOnlyList<string> Done { get; init; } = [];

    /// <summary>What was seen and not done, and what could not be known.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    /// <summary>How to keep it keen.</summary>
    public IReadOnlyList<string> Care { get; init; } = [];

    /// <summary>The day to come again; null where none is known.</summary>
    public DateOnly? ComeAgain { get; init; }

    /// <summary>Why then, or what to look for: <c>when it slides on a tomato</c>.</summary>
    public string? ComeAgainWhy { get; init; }

    /// <summary>Address of the piece's page, for a QR code; null prints none.</summary>
    public string? Address { get; init; }
}

/// <summary>An angle before and after, with standard uncertainties (k = 1), degrees.</summary>
/// <param name="Name"><c>left</c>, <c>right</c>, <c>included</c>, <c>from the back</c>.</param>
/// <param name="BeforeDeg">As found; null where it was not read.</param>
/// <param name="BeforeUDeg">Its standard uncertainty; null where not known.</param>
/// <param name="AfterDeg">As handed back; null where it was not read.</param>
/// <param name="AfterUDeg">Its standard uncertainty; null where not known.</param>
public sealed record NotedAngle(string Name, double? BeforeDeg, double? BeforeUDeg, double? AfterDeg, double? AfterUDeg);

/// <summary>A named value, ready to print.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">With its unit.</param>
public sealed record NotedFact(string Name, string Value);
