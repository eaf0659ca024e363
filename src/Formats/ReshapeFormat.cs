using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>reshape.json: an outline to repair. Described in docs/formats/reshape.schema.json.</summary>
public static class ReshapeFormat
{
    private static readonly (string Word, ProfileRepair Repair)[] Repairs =
    [
        ("broken-tip-from-spine", ProfileRepair.BrokenTipFromSpine),
        ("broken-tip-from-edge", ProfileRepair.BrokenTipFromEdge),
        ("full-bolster", ProfileRepair.FullBolster),
        ("over-ground-heel", ProfileRepair.OverGroundHeel),
        ("board-gap", ProfileRepair.BoardGap),
        ("chip-run-out", ProfileRepair.ChipRunOut),
    ];

    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
    [
        "repair", "edgeMm", "heightMm", "spineOutlineMm", "behindEdgeMm", "spineMm", "atMm", "chipAtMm", "chipDepthMm", "bolsterClearanceMm",
        "bolsterThicknessMm", "removalMm3PerMinute",
    ];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<ReshapeInput> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static ReshapeInput? From(FieldReader root)
    {
        string? word = root.RequiredWord("repair", [.. Repairs.Select(r => r.Word)]);
        IReadOnlyList<Point2>? edge = root.PointsMm("edgeMm");
        if (edge is null)
            root.Fault("edgeMm", "missing; the old edge as points [[x, y], …] from heel to tip would be right");
        IReadOnlyList<Point2>? spine = root.PointsMm("spineOutlineMm");
        double height = spine is null
            ? root.RequiredLengthMm("heightMm", Limits.PositiveTo(1000))
            : root.LengthMm("heightMm", Limits.PositiveTo(1000)) ?? 1;
        if (word is null || edge is null)
            return null;
        ReshapeInput input = new(Array.Find(Repairs, r => r.Word == word).Repair, edge, height)
        {
            SpineMm = spine,
            AtMm = root.LengthMm("atMm", Limits.Any),
            ChipAtMm = root.LengthMm("chipAtMm", Limits.Any),
            ChipDepthMm = root.LengthMm("chipDepthMm", Limits.Positive),
            BolsterThicknessMm = root.LengthMm("bolsterThicknessMm", Limits.Positive),
            RemovalMm3PerMinute = root.Number("removalMm3PerMinute", Limits.Positive, "mm³ a minute"),
        };
        return input with
        {
            BehindEdgeMm = root.LengthMm("behindEdgeMm", Limits.Positive) ?? input.BehindEdgeMm,
            SpineThicknessMm = root.LengthMm("spineMm", Limits.Positive) ?? input.SpineThicknessMm,
            BolsterClearanceMm = root.LengthMm("bolsterClearanceMm", Limits.NotNegative) ?? input.BolsterClearanceMm,
        };
    }
}
