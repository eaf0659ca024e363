using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>What is known of the blade and the set-up beside the marks.</summary>
public sealed record ReadingKnowledge
{
    /// <summary>True for a piece whose second face is its back: no equal primaries, no mid-plane.</summary>
    public bool HasBack { get; init; }

    /// <summary>False where nobody noted where the tip was: blade sides are then left out.</summary>
    public bool TipKnown { get; init; } = true;

    /// <summary>Roll of the holder where the instrument knows it.</summary>
    public Angle? HolderRoll { get; init; }

    /// <summary>Re-clamping scatter where the instrument knows it; null: the assumption stands in.</summary>
    public Angle? Scatter { get; init; }

    /// <summary>What was known of the blade before.</summary>
    public IReadOnlyList<PriorAngle> Priors { get; init; } = [];

    /// <summary>What stands in where nothing was measured.</summary>
    public ReadingAssumptions Assumptions { get; init; } = ReadingAssumptions.Default;

    /// <summary>Marks that were left out before the combination because they do not fit their own repeats.</summary>
    public WildMark? WildAmongRepeats { get; init; }

    /// <summary>Defaults that the marks themselves lean on, in words, such as <c>distance ± 0.5 %</c>; repeated in the result.</summary>
    public IReadOnlyList<string> DefaultsUsed { get; init; } = [];

    /// <summary>Curved facets seen as smears, by target side in the first mount.</summary>
    public IReadOnlyDictionary<Side, FacetRange> Ranges { get; init; } = new Dictionary<Side, FacetRange>();
}
