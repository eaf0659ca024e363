using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;

namespace Whetwright.Sight.Reading;

/// <summary>Distance, zero and printer as a kernel wants them, with what is assumed where nobody measured.</summary>
internal sealed record BeamSetUp
{
    public required double DistanceMm { get; init; }

    public required double DistanceUMm { get; init; }

    public required bool DistanceIsDefault { get; init; }

    /// <summary>Bare beam right of the target's zero, true mm.</summary>
    public required (double Value, double U) ZeroX { get; init; }

    /// <summary>Bare beam below the target's zero, true mm.</summary>
    public required (double Value, double U) ZeroY { get; init; }

    public required double ScaleX { get; init; }

    public required double ScaleY { get; init; }

    /// <summary>Relative standard uncertainty of the print.</summary>
    public required double ScaleU { get; init; }

    public SetUpPriors Priors { get; init; } = new();

    public static BeamSetUp From(PhotoReadRequest request)
    {
        var priors = new SetUpPriors();
        Instrument? instrument = request.Instrument;
        double nominal = request.Target.DistanceMm;
        bool isDefault = request.Distance is null && instrument is null;
        MeasuredLength distance = request.Distance ?? instrument?.Distance
            ?? MeasuredLength.FromMillimetres(nominal, nominal * ReadingAssumptions.Default.DistanceRelativeUncertainty);
        (double sx, double sy, bool measured) = request.Target.PrintScale is { } p ? (p.Across, p.Down, true)
            : instrument?.PrintScale is { } q ? (q.Across, q.Down, true) : (1.0, 1.0, false);
        bool zeroKnown = instrument is { IsDefault: false } && instrument.Zero.StandardUncertainty.Millimetres > 0;
        return new()
        {
            DistanceMm = Require.Positive(distance.Value.Millimetres, "distanceMm"),
            DistanceUMm = distance.StandardUncertainty.Millimetres,
            DistanceIsDefault = isDefault || instrument is { IsDefault: true },
            ZeroX = zeroKnown ? (instrument!.Zero.Value.Millimetres, instrument.Zero.StandardUncertainty.Millimetres) : (0, priors.ZeroMm),
            ZeroY = (0, priors.ZeroMm),
            ScaleX = sx,
            ScaleY = sy,
            ScaleU = !measured ? 0.0015 : request.Target.PrintScale is null ? instrument?.PrintScaleU ?? 0.0005 : 0.0005,
            Priors = priors,
        };
    }
}
