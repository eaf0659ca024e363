using Whetwright.Core.PenTest;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>touch.json: a pen test, forward or (with the band seen) inverse. Described in docs/formats/touch.schema.json.</summary>
public static class TouchFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
        ["oldDeg", "oldRadiusMm", "setDeg", "widthMm", "wheelDiameterMm", "advanceMm", "seenBandMm"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<TouchQuestion> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static TouchQuestion? From(FieldReader root)
    {
        double old = root.RequiredAngleDeg("oldDeg", new Limits(0.5, 80));
        bool inverse = root.Has("seenBandMm");
        double set = inverse && !root.Has("setDeg") ? old : root.RequiredAngleDeg("setDeg", new Limits(0.5, 80));
        double width = root.RequiredLengthMm("widthMm", Limits.PositiveTo(100));
        double? radius = root.LengthMm("oldRadiusMm", Limits.Any);
        double? wheel = root.LengthMm("wheelDiameterMm", new Limits(2, 100_000));
        double? advance = root.LengthMm("advanceMm", Limits.Positive);
        (double From, double To)? seen = root.RangeMm("seenBandMm", Limits.NotNegative);
        if (seen is { } band && band.To > width)
            root.Fault("seenBandMm", FormattableString.Invariant($"the band must lie on the facet, from 0 to {width} mm from the apex"));
        return new(new TouchInput(old, radius, set, width, wheel, advance), seen is { } s ? new InkBand(s.From, s.To) : null);
    }
}

/// <summary>What touch.json asks.</summary>
/// <param name="Input">Facet and rig.</param>
/// <param name="Seen">The band seen bare, for the inverse; null for the forecast.</param>
public sealed record TouchQuestion(TouchInput Input, InkBand? Seen);
