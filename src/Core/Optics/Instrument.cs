using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>A target with its measured distance and zero: what turns the place of a mark into an angle.</summary>
/// <param name="Distance">From the edge to the target along the beam.</param>
/// <param name="Zero">Where the bare beam falls on the target, right of the target's zero.</param>
public sealed record Instrument(MeasuredLength Distance, MeasuredLength Zero)
{
    /// <summary>True millimetres per printed millimetre, across and down; null: nobody checked the printer, taken as 1.</summary>
    public PrintScale? PrintScale { get; init; }

    /// <summary>Standard uncertainty of either factor of <see cref="PrintScale"/>; null: not told.</summary>
    public double? PrintScaleU { get; init; }

    /// <summary>Roll of the holder, common to all mounts, positive when the target's right reads more; null: not known.</summary>
    public Angle? HolderRoll { get; init; }

    /// <summary>Standard deviation of the roll from one clamping to the next; null: not known.</summary>
    public Angle? Scatter { get; init; }

    /// <summary>The day it was calibrated, as given.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>True where the distance is a default that nobody measured.</summary>
    public bool IsDefault { get; init; }

    /// <summary>The instrument with the holder's roll and the re-clamping scatter that a reading with turned mounts found.</summary>
    /// <exception cref="ArgumentException">The reading does not tell the roll.</exception>
    public Instrument WithHolder(CombinedReading reading)
    {
        if (reading is not { RollKnown: true, Roll: { } roll })
            throw new ArgumentException("The reading does not tell the holder's roll: read one blade twice, turned end for end.", nameof(reading));
        return this with
        {
            HolderRoll = roll.Value,
            Scatter = reading.Scatter is { IsDefault: false } scatter ? scatter.Value : Scatter,
        };
    }
}
