namespace Whetwright.Sight.Marks;

/// <summary>One way to say what the marks are.</summary>
internal sealed record MarkHypothesis
{
    public required MarkShape? EdgeLeft { get; init; }

    public required MarkShape? EdgeRight { get; init; }

    public MarkShape? MicroLeft { get; init; }

    public MarkShape? MicroRight { get; init; }

    public MarkShape? PrimaryLeft { get; init; }

    public MarkShape? PrimaryRight { get; init; }

    /// <summary>Why the left edge's mark was not found, where it was not.</summary>
    public MissingMark MissingLeft { get; init; }

    public MissingMark MissingRight { get; init; }

    public required EdgeRow Row { get; init; }

    public required double Score { get; init; }

    public IEnumerable<MarkShape> OnRow => new[] { EdgeLeft, EdgeRight, MicroLeft, MicroRight, PrimaryLeft, PrimaryRight }.OfType<MarkShape>();
}

/// <summary>The likeliest reason why a side's edge mark was not found.</summary>
internal enum MissingMark
{
    /// <summary>It sends no light, or too little, or none onto the sheet.</summary>
    NotThere = 0,

    /// <summary>It lies behind the blade.</summary>
    Hidden = 1,

    /// <summary>It lies within a brighter mark's light.</summary>
    Swallowed = 2,
}

/// <summary>What the marks are taken for, with the odds.</summary>
/// <param name="Best">The likeliest way.</param>
/// <param name="Rival">The likeliest way with another edge mark, or null.</param>
/// <param name="Odds">Probability of the edge marks chosen, among the ways considered.</param>
internal sealed record MarkChoice(MarkHypothesis Best, MarkHypothesis? Rival, double Odds);
