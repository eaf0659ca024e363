using System.Globalization;
using Whetwright.Core.Optics;
using Whetwright.Core.Targets;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Web.Shared.Forms;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>Which of the shop's instruments a reading goes by.</summary>
internal static class InstrumentChoice
{
    private const string None = "none";

    /// <summary>For marks read by eye: any instrument, or none.</summary>
    public static ChoiceField ForMarks(BenchKit kit)
    {
        ChoiceField field = new("instrument", "Instrument", [.. kit.Instruments.Select(One), new(None, "None: chosen defaults")])
        {
            Required = true,
            List = true,
            Hint = kit.Instruments.Count == 0 ? InstrumentOnBench.DefaultsInWords : "Target, distance and zero as calibrated in Kit; the newest first.",
        };
        return field.Fill(kit.Instruments.Count > 0 ? Key(kit.Instruments[0]) : None);
    }

    /// <summary>For photos: an instrument with a printed target, or our own sheet with nothing measured.</summary>
    public static ChoiceField ForPhotos(BenchKit kit)
    {
        InstrumentKept[] printed = [.. kit.Instruments.Where(i => i.TargetJson is { Length: > 0 })];
        ChoiceField field = new("instrument", "Target in the photo",
        [
            .. printed.Select(One),
            new("a4", "A4 target printed for 100 mm, not calibrated"),
            new("letter", "Letter target printed for 100 mm, not calibrated"),
        ])
        {
            Required = true,
            List = true,
            Hint = printed.Length == 0 ? "No calibrated target is kept yet: the distance is taken as printed, ± 0.5 %, and zero as printed. Both are chosen defaults; calibrate in Kit." : "As calibrated in Kit; the newest first.",
        };
        return field.Fill(printed.Length > 0 ? Key(printed[0]) : "a4");
    }

    /// <summary>The instrument chosen; null for none.</summary>
    public static InstrumentKept? Of(BenchKit kit, ChoiceField field) => kit.Instruments.FirstOrDefault(i => Key(i) == field.Value);

    /// <summary>What goes with the photos; null with the field refused where the instrument cannot be used.</summary>
    public static PhotoChoice? Photos(BenchKit kit, ChoiceField field)
    {
        if (Of(kit, field) is not { } kept)
            return new(InstrumentOnBench.UncalibratedTarget(field.Value == "letter" ? KnownPaperSizes.Letter : KnownPaperSizes.A4));
        switch (InstrumentOnBench.Target(kept), InstrumentOnBench.Of(kept))
        {
            case (Composed<TargetSheet>.Ready target, Composed<Instrument>.Ready instrument):
                return new(target.Value) { Instrument = instrument.Value };
            case (Composed<TargetSheet>.NotYet missing, _):
                field.Refuse(string.Join("; ", missing.Missing));
                return null;
            case (_, Composed<Instrument>.NotYet missing):
                field.Refuse(string.Join("; ", missing.Missing));
                return null;
            default:
                throw new InvalidOperationException("Not a member of the closed set.");
        }
    }

    private static Choice One(InstrumentKept kept) =>
        new(Key(kept), string.Create(CultureInfo.InvariantCulture, $"{kept.Name}, {kept.How} on {kept.HappenedAt:yyyy-MM-dd}"));

    private static string Key(InstrumentKept kept) => kept.Id.ToString(CultureInfo.InvariantCulture);
}
