namespace Whetwright.Records.Bench;

/// <summary>
/// What is known of a piece's steel: hardness and carbides, as the card-cut fit takes them. Entered at a visit and kept with the piece: the latest of all its visits counts.
/// </summary>
public sealed class SteelNoted : VisitFact
{
    /// <summary>Where it is known from: "data sheet", "hardness tested here".</summary>
    public required string Source { get; init; }

    /// <summary>Rockwell C hardness.</summary>
    public double HardnessHrc { get; init; }

    /// <summary>Cementite, volume percent.</summary>
    public double CementitePercent { get; init; }

    /// <summary>Chromium carbide, volume percent.</summary>
    public double ChromiumCarbidePercent { get; init; }

    /// <summary>Chromium carbide with vanadium in it, volume percent.</summary>
    public double ChromiumVanadiumCarbidePercent { get; init; }

    /// <summary>Vanadium or niobium carbide, volume percent.</summary>
    public double VanadiumCarbidePercent { get; init; }

    /// <summary>Tungsten or molybdenum carbide, volume percent.</summary>
    public double TungstenCarbidePercent { get; init; }

    /// <summary>Vanadium nitride, volume percent.</summary>
    public double VanadiumNitridePercent { get; init; }

    /// <summary>Chromium nitride, volume percent.</summary>
    public double ChromiumNitridePercent { get; init; }
}
