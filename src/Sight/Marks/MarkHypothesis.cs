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

    /// <summary>True where the side's edge mark most likely lies behind the blade.</summary>
    public bool HiddenLeft { get; init; }

    public bool HiddenRight { get; init; }

    public required EdgeRow Row { get; init; }

    public required double Score { get; init; }

    public IEnumerable<MarkShape> OnRow => new[] { EdgeLeft, EdgeRight, MicroLeft, MicroRight, PrimaryLeft, PrimaryRight }.OfType<MarkShape>();
}

/// <summary>What the marks are taken for, with the odds.</summary>
/// <param name="Best">The likeliest way.</param>
/// <param name="Rival">The likeliest way with another edge mark, or null.</param>
/// <param name="Odds">Probability of the edge marks chosen, among the ways considered.</param>
internal sealed record MarkChoice(MarkHypothesis Best, MarkHypothesis? Rival, double Odds);
