namespace Whetwright.Records.Kit;

/// <summary>A machine or stone with its geometry.</summary>
public sealed class RigKept : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>The shop's name for it.</summary>
    public required string Name { get; set; }

    /// <summary>Its geometry in our rig format, wheels left out: those are rows of their own.</summary>
    public required string RigJson { get; set; }

    /// <summary>No longer in use.</summary>
    public bool Retired { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }

    /// <summary>Wheels that sit on it.</summary>
    public ICollection<WheelKept> Wheels { get; } = [];
}

/// <summary>Where the rig stands: what was dialled last.</summary>
public sealed class RigStand : Fact
{
    /// <summary>The rig.</summary>
    public long RigId { get; init; }

    /// <summary>The wheel that the bar was set for.</summary>
    public long? WheelId { get; init; }

    /// <summary>Bar centre to axis, mm; pivot height or lift for rigs of those kinds.</summary>
    public double DialledMm { get; init; }
}

/// <summary>A wheel on a rig.</summary>
public sealed class WheelKept : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>The rig.</summary>
    public long RigId { get; set; }

    /// <summary>The rig.</summary>
    public RigKept? Rig { get; set; }

    /// <summary>Name.</summary>
    public required string Name { get; set; }

    /// <summary>The abrasive it is made of or carries.</summary>
    public long? AbrasiveId { get; set; }

    /// <summary>Its own offset to the chosen angle, degrees (a honing wheel).</summary>
    public double OffsetDeg { get; set; }

    /// <summary>Turns per minute.</summary>
    public double? Rpm { get; set; }

    /// <summary>Largest surface speed marked on it, m/s.</summary>
    public double? MarkedLimitMs { get; set; }

    /// <summary>Smallest diameter to use, mm.</summary>
    public double? MinimumDiameterMm { get; set; }

    /// <summary>No longer in use.</summary>
    public bool Retired { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }
}

/// <summary>Why a diameter was entered.</summary>
public enum DiameterCause
{
    /// <summary>It was measured.</summary>
    Measured = 0,

    /// <summary>It was dressed and measured.</summary>
    Dressed = 1,

    /// <summary>A new wheel.</summary>
    New = 2,
}

/// <summary>A wheel's diameter on a day; the latest that stands is today's.</summary>
public sealed class DiameterEntry : Fact
{
    /// <summary>The wheel.</summary>
    public long WheelId { get; init; }

    /// <summary>Diameter, mm.</summary>
    public double DiameterMm { get; init; }

    /// <summary>Standard uncertainty, mm.</summary>
    public double UMm { get; init; }

    /// <summary>Why.</summary>
    public DiameterCause Cause { get; init; }
}

/// <summary>What an abrasive is.</summary>
public enum AbrasiveForm
{
    /// <summary>Grinding wheel.</summary>
    Wheel = 0,

    /// <summary>Stone.</summary>
    Stone = 1,

    /// <summary>Belt.</summary>
    Belt = 2,

    /// <summary>Strop with compound.</summary>
    Strop = 3,

    /// <summary>Honing or stropping wheel.</summary>
    HoningWheel = 4,

    /// <summary>Rod.</summary>
    Rod = 5,
}

/// <summary>An abrasive or strop that the shop owns.</summary>
public sealed class AbrasiveKept : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Name.</summary>
    public required string Name { get; set; }

    /// <summary>Form.</summary>
    public AbrasiveForm Form { get; set; }

    /// <summary>Grade system: "fepa-f", "fepa-p", "jis", "cami", "um" or null.</summary>
    public string? System { get; set; }

    /// <summary>Grade as marked: "1000".</summary>
    public string? Grade { get; set; }

    /// <summary>Median grain size, µm, where typed or looked up.</summary>
    public double? D50Um { get; set; }

    /// <summary>Area taken off per pass and side, mm²; null while nobody knows.</summary>
    public double? AreaPerPassMm2 { get; set; }

    /// <summary>Minutes to change to it.</summary>
    public double? ChangeMinutes { get; set; }

    /// <summary>Order of use, coarse first.</summary>
    public int Order { get; set; }

    /// <summary>No longer in use.</summary>
    public bool Retired { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }
}

/// <summary>An instrument: target, distance and zero, calibrated; the latest that stands counts.</summary>
public sealed class InstrumentKept : Fact
{
    /// <summary>Name.</summary>
    public required string Name { get; init; }

    /// <summary>Our instrument format.</summary>
    public required string InstrumentJson { get; init; }

    /// <summary>Our target format; null where marks are read by eye on another scale.</summary>
    public string? TargetJson { get; init; }

    /// <summary>How it was calibrated: "typed", "step", "roll", "zero", "print", "spacer".</summary>
    public required string How { get; init; }
}

/// <summary>A house rule: for such pieces, this edge.</summary>
public sealed class HouseRule : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Name.</summary>
    public required string Name { get; set; }

    /// <summary>For this kind; null for all.</summary>
    public Core.Blades.PieceKind? Kind { get; set; }

    /// <summary>For edges at least this long, mm.</summary>
    public double? FromLengthMm { get; set; }

    /// <summary>For edges shorter than this, mm.</summary>
    public double? ToLengthMm { get; set; }

    /// <summary>Degrees per side; from the back for pieces with one.</summary>
    public double AngleDeg { get; set; }

    /// <summary>Micro-bevel, degrees per side; null for none.</summary>
    public double? MicroDeg { get; set; }

    /// <summary>Tolerance, degrees.</summary>
    public double ToleranceDeg { get; set; }

    /// <summary>First match wins, in this order.</summary>
    public int Order { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }
}
