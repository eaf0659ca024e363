using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Workbench.Photos;

/// <summary>What is told beside the photographs.</summary>
/// <param name="Target">The printed target in them.</param>
public sealed record PhotoChoice(TargetSheet Target)
{
    /// <summary>Where the tip was in the first placing; null where nobody noted it.</summary>
    public TipDirection? Tip { get; init; }

    /// <summary>The calibrated instrument.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>Distance told; wins over the instrument's.</summary>
    public MeasuredLength? Distance { get; init; }

    /// <summary>True where the distance's uncertainty is the default.</summary>
    public bool DistanceUIsDefault { get; init; }

    /// <summary>red, green, or null: found out from the photo.</summary>
    public string? Laser { get; init; }

    /// <summary>dot, line, or null: found out from the photo.</summary>
    public string? Beam { get; init; }

    /// <summary>Form of the bevels; null where nobody told.</summary>
    public FacetForm? Form { get; init; }

    /// <summary>True for a piece whose second face is its back.</summary>
    public bool HasBack { get; init; }

    /// <summary>The distance as told; an uncertainty alone is that of the distance which stands anyway. Null where nothing is told.</summary>
    public static MeasuredLength? DistanceTold(TargetSheet sheet, Instrument? instrument, double? mm, double? uMm)
    {
        if (mm is { } told)
            return MeasuredLength.FromMillimetres(told, uMm ?? told * ReadingAssumptions.Default.DistanceRelativeUncertainty);
        return uMm is { } u ? MeasuredLength.FromMillimetres(instrument?.Distance.Value.Millimetres ?? sheet.DistanceMm, u) : null;
    }
}
