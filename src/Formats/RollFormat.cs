using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>roll.json: marks at known steps of roll of the holder. Described in docs/formats/roll.schema.json.</summary>
public static class RollFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
        ["sineBaseMm", "sineBaseUMm", "feelerUMm", "markUMm", "roughDistanceMm", "zeroMm", "zeroUMm", "printScale", "steps"];

    /// <summary>Keys of a step.</summary>
    public static IReadOnlyList<string> StepKeys { get; } = ["feelerMm", "leftMm", "rightMm"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<RollQuestion> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static RollQuestion? From(FieldReader root)
    {
        double sineBase = root.RequiredLengthMm("sineBaseMm", Limits.Positive);
        double sineBaseU = root.LengthMm("sineBaseUMm", Limits.NotNegative) ?? 0.05;
        double feelerU = root.LengthMm("feelerUMm", Limits.NotNegative) ?? 0.005;
        double markU = root.LengthMm("markUMm", Limits.Positive) ?? 0.15;
        double rough = root.RequiredLengthMm("roughDistanceMm", Limits.Positive);
        double? zero = root.LengthMm("zeroMm", Limits.Any);
        double zeroU = root.LengthMm("zeroUMm", Limits.NotNegative) ?? 0.15;
        double scale = root.Number("printScale", new Limits(0.9, 1.1)) ?? 1;
        List<RollStep> steps = [];
        foreach (FieldReader step in root.Objects("steps", [.. StepKeys]))
        {
            double feeler = step.RequiredLengthMm("feelerMm", Limits.Any);
            if (!double.IsFinite(feeler))
                continue;
            steps.Add(new(Length.FromMillimetres(feeler), step.LengthMm("leftMm", Limits.Any), step.LengthMm("rightMm", Limits.Any)));
        }

        if (!root.Has("steps"))
            root.Fault("steps", "missing; at least two steps {\"feelerMm\":…, \"leftMm\":…, \"rightMm\":…} would be right");
        return !double.IsFinite(sineBase + rough) ? null : new(steps, new RollSetUp(
            MeasuredLength.FromMillimetres(sineBase, sineBaseU), Length.FromMillimetres(feelerU), Length.FromMillimetres(markU), Length.FromMillimetres(rough))
        {
            Zero = zero is { } z ? MeasuredLength.FromMillimetres(z, zeroU) : null,
            PrintScale = scale,
        });
    }
}

/// <summary>What roll.json holds.</summary>
/// <param name="Steps">The steps with their marks.</param>
/// <param name="SetUp">Sine base and uncertainties.</param>
public sealed record RollQuestion(IReadOnlyList<RollStep> Steps, RollSetUp SetUp);
