using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Scale, distance and zero behind marks read by eye.</summary>
public sealed record BenchSetUp
{
    private BenchSetUp(BenchMarks marks, Instrument instrument, Length printedFor)
    {
        (Scale, Instrument, PrintedFor) = (marks.Scale, instrument, printedFor);
        (Resolution, ResolutionIsBevel) = marks.Scale == MarkScale.TargetMillimetres
            ? marks.ResolutionMm is { } mm ? (mm, false) : (marks.ResolutionDeg, true)
            : (marks.ResolutionDeg, false);
    }

    /// <summary>What the numbers mean.</summary>
    public MarkScale Scale { get; }

    /// <summary>Distance and zero, measured or default.</summary>
    public Instrument Instrument { get; }

    /// <summary>The distance the scale was printed for.</summary>
    public Length PrintedFor { get; }

    /// <summary>The defaults that stand in, in words.</summary>
    public IReadOnlyList<string> DefaultsUsed { get; private init; } = [];

    /// <summary>True where millimetres on the target are known: not so for a degree scale at a distance that nobody named.</summary>
    public bool PlaceKnown { get; private init; }

    private double Resolution { get; }

    private bool ResolutionIsBevel { get; }

    internal static BenchSetUp Of(BenchMarks marks)
    {
        ReadingAssumptions assumed = marks.Assumptions;
        if (marks.Instrument is { } instrument)
        {
            bool guessed = marks.Scale != MarkScale.TargetMillimetres && marks.ScaleDistance is null;
            return new(marks, instrument, marks.ScaleDistance ?? instrument.Distance.Value)
            {
                PlaceKnown = true,
                DefaultsUsed = guessed
                    ? [string.Create(CultureInfo.InvariantCulture, $"the scale was printed for the instrument's distance, {instrument.Distance.Value.Millimetres:0.##} mm")]
                    : [],
            };
        }

        Length distance = marks.ScaleDistance ?? assumed.Distance;
        Instrument standIn = new(
            new(distance, distance * assumed.DistanceRelativeUncertainty), new(Length.Zero, distance * assumed.ZeroRelativeUncertainty))
        {
            IsDefault = true,
        };
        return new(marks, standIn, distance)
        {
            PlaceKnown = marks.ScaleDistance is not null,
            DefaultsUsed =
            [
                string.Create(CultureInfo.InvariantCulture, $"the target stands where the scale was printed for, ± {assumed.DistanceRelativeUncertainty * 100:0.##} %"),
                string.Create(CultureInfo.InvariantCulture, $"the bare beam falls on zero, ± {assumed.ZeroRelativeUncertainty * 100:0.##} % of the distance"),
            ],
        };
    }

    private double PrintFactor => Instrument.PrintScale?.Across ?? 1;

    /// <summary>A label's place, printed millimetres outward from zero.</summary>
    public double Outward(double label) => DegreeScale.PlaceMm(Scale, label, PrintedFor);

    /// <summary>The bevel as read of a label.</summary>
    public Angle Bevel(double label, Side target) => Bevel(label, target, Instrument.Distance.Value, Instrument.Zero.Value);

    /// <summary>The bevel as read of a label, were distance and zero these.</summary>
    public Angle Bevel(double label, Side target, Length distance, Length zero) =>
        DegreeScale.BevelAt(Outward(label), target, distance, zero, PrintFactor);

    /// <summary>The finest step at a label, in degrees of bevel.</summary>
    public double ResolutionBevelDeg(double label, Side target) =>
        ResolutionIsBevel ? Resolution : Math.Abs(Resolution * DegPerUnit(label, target));

    /// <summary>Degrees of bevel that one unit of the label is worth here.</summary>
    public double DegPerUnit(double label, Side target) =>
        DegreeScale.BevelDegPerUnit(Scale, label, PrintedFor, Instrument.Distance.Value, PrintFactor, Bevel(label, target));

    internal IReadOnlyList<CommonPart> Common(Angle bevel, Side target)
    {
        Length distance = Instrument.Distance.Value;
        double relative = Instrument.Distance.StandardUncertainty / distance;
        List<CommonPart> parts = [];
        if (relative > 0)
            parts.Add(new("distance", -double.RadiansToDegrees(DistanceSensitivity.RadiansPerRelativeDistance(bevel)) * relative));
        double zeroMm = Instrument.Zero.StandardUncertainty.Millimetres;
        if (zeroMm > 0)
        {
            int sign = target == Side.Right ? 1 : -1;
            parts.Add(new("zero", -sign * double.RadiansToDegrees(DistanceSensitivity.RadiansPerMillimetre(bevel, distance)) * zeroMm));
        }

        return parts;
    }
}
