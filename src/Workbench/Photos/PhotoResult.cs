using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Reading;

namespace Whetwright.Workbench.Photos;

/// <summary>A reading from photographs in the shape that marks read by eye give.</summary>
/// <param name="Reading">The reading; refused readings have their reasons and the marks seen.</param>
/// <param name="Annotated">The photos with what was read drawn on them, PNG, first and turned; empty where not asked for or not decodable.</param>
public sealed record PhotoResult(CombinedReading Reading, IReadOnlyList<byte[]> Annotated)
{
    /// <summary>What was seen, placing by placing; null where no photo could be opened.</summary>
    public PhotoReading? Seen { get; init; }

    /// <summary>A refusal before any mark was sought.</summary>
    public static PhotoResult Refused(Reason reason) => new(Nothing([reason]), []);

    /// <summary>A refused reading with nothing but its reasons.</summary>
    public static CombinedReading Nothing(IReadOnlyList<Reason> reasons) => new(
        ReadingOutcome.Refused, reasons, null,
        [new(Side.Left, null, null, null, null, null), new(Side.Right, null, null, null, null, null)],
        null, RollKnown: false, [], [], []);
}
