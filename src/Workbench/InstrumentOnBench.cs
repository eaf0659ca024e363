using System.Text.Json.Nodes;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;
using Whetwright.Records.Kit;

namespace Whetwright.Workbench;

/// <summary>A kept instrument for Core and Sight.</summary>
public static class InstrumentOnBench
{
    /// <summary>The instrument with the distance as told; where only the distance is told, zero and doubt are the labelled defaults.</summary>
    /// <param name="given">What is known; null for nothing.</param>
    /// <param name="mm">Distance, mm.</param>
    /// <param name="uMm">Its standard uncertainty; null for the default share of it.</param>
    public static Instrument AtDistance(Instrument? given, double mm, double? uMm)
    {
        ReadingAssumptions assumed = ReadingAssumptions.Default;
        MeasuredLength distance = MeasuredLength.FromMillimetres(mm, uMm ?? mm * assumed.DistanceRelativeUncertainty);
        return given is null
            ? new(distance, MeasuredLength.FromMillimetres(0, mm * assumed.ZeroRelativeUncertainty))
            : given with { Distance = distance };
    }

    /// <summary>Its stored description.</summary>
    public static Composed<Instrument> Of(InstrumentKept kept) =>
        Composed<Instrument>.From(InstrumentFormat.Read(kept.InstrumentJson), kept.InstrumentJson, []);

    /// <summary>The printed target that belongs to it.</summary>
    public static Composed<TargetSheet> Target(InstrumentKept kept)
    {
        if (kept.TargetJson is not { Length: > 0 } json)
            return new Composed<TargetSheet>.NotYet([$"Instrument “{kept.Name}” has no printed target: photos need one. Print one in Kit, or type the marks."]);
        return Composed<TargetSheet>.From(TargetFormat.Read(json), json, []);
    }

    /// <summary>Our own target on a paper at the distance it is printed for, nothing of it measured: what stands in where no instrument is kept.</summary>
    public static TargetSheet UncalibratedTarget(PaperSize paper) => TargetLayout.For(paper, ReadingAssumptions.Default.Distance).Sheet;

    /// <summary>The newest of those kept: the one that is offered first.</summary>
    public static InstrumentKept? Newest(IEnumerable<InstrumentKept> kept) => kept.OrderByDescending(i => i.HappenedAt).ThenByDescending(i => i.Id).FirstOrDefault();

    /// <summary>An instrument as a document in our format.</summary>
    public static string ToJson(Instrument instrument) => JsonResults.Document(json => InstrumentFormat.Write(json, instrument));

    /// <summary>What stands in where there is no instrument, in words for a page.</summary>
    public static string DefaultsInWords { get; } = FormattableString.Invariant(
        $"No instrument is kept yet: the target is taken to stand where its scale was printed for, ± {100 * ReadingAssumptions.Default.DistanceRelativeUncertainty:0.##} %, and the bare beam to fall on zero, ± {100 * ReadingAssumptions.Default.ZeroRelativeUncertainty:0.##} % of the distance. Both are chosen defaults; calibrate one in Kit.");

    internal static JsonNode? Node(string? json) => json is null ? null : JsonNode.Parse(json);
}
