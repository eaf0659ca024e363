using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Bench;

/// <summary>One visit with all that the bench shows of it: the facts that stand, oldest first.</summary>
public sealed record BenchVisit
{
    /// <summary>The visit.</summary>
    public required Visit Visit { get; init; }

    /// <summary>The piece.</summary>
    public required Piece Piece { get; init; }

    /// <summary>Whose it is.</summary>
    public required Owner Owner { get; init; }

    /// <summary>Where it stands.</summary>
    public required VisitStanding Standing { get; init; }

    /// <summary>Placings in the beam.</summary>
    public IReadOnlyList<Mount> Mounts { get; init; } = [];

    /// <summary>Readings.</summary>
    public IReadOnlyList<Reading> Readings { get; init; } = [];

    /// <summary>Outlines of the piece, from earlier visits too.</summary>
    public IReadOnlyList<OutlineTaken> Outlines { get; init; } = [];

    /// <summary>Sections of the piece, from earlier visits too.</summary>
    public IReadOnlyList<SectionMeasured> Sections { get; init; } = [];

    /// <summary>What was noted of the piece's steel, at earlier visits too.</summary>
    public IReadOnlyList<SteelNoted> Steels { get; init; } = [];

    /// <summary>Aims.</summary>
    public IReadOnlyList<AimChosen> Aims { get; init; } = [];

    /// <summary>Cut tests.</summary>
    public IReadOnlyList<CutTest> CutTests { get; init; } = [];

    /// <summary>What was said of the steps.</summary>
    public IReadOnlyList<StepMark> StepMarks { get; init; } = [];

    /// <summary>Photos of this visit.</summary>
    public IReadOnlyList<Photo> Photos { get; init; } = [];

    /// <summary>The tag as it is read out.</summary>
    public string Tag => TagNumber.Format(Visit.Tag);

    /// <summary>The reading of a purpose that counts: the latest.</summary>
    public Reading? ReadingFor(ReadingPurpose purpose) => Latest(Readings.Where(r => r.Purpose == purpose));

    /// <summary>The aim that counts.</summary>
    public AimChosen? Aim => Latest(Aims);

    /// <summary>The steel as noted last, at whatever visit; null where it is not known.</summary>
    public SteelNoted? Steel => Latest(Steels);

    /// <summary>The section measured last at this visit.</summary>
    public SectionMeasured? SectionNow => Latest(Sections.Where(s => s.VisitId == Visit.Id));

    /// <summary>The outline taken last at this visit.</summary>
    public OutlineTaken? OutlineNow => Latest(Outlines.Where(o => o.VisitId == Visit.Id));

    /// <summary>The deepest chip known at this visit, mm.</summary>
    public double? ChipMm => SectionNow?.ChipMm ?? OutlineNow?.ChipMm;

    /// <summary>The latest of some facts.</summary>
    public static T? Latest<T>(IEnumerable<T> facts)
        where T : Fact => facts.OrderBy(f => f.HappenedAt).ThenBy(f => f.Id).LastOrDefault();
}
