using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>
/// graduations.json: some degree scale in a photo, as a person points it out; a bare list of graduations is taken as bevel degrees. Described in
/// docs/formats/graduations.schema.json.
/// </summary>
public static class GraduationsFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["scale", "graduations"];

    /// <summary>Keys of a graduation.</summary>
    public static IReadOnlyList<string> GraduationKeys { get; } = ["px", "deg"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<GraduationsFile> Read(string json) =>
        FieldReader.Document(json.TrimStart().StartsWith('[') ? $"{{\"graduations\":{json}}}" : json, Keys, From);

    internal static GraduationsFile? From(FieldReader root)
    {
        MarkScale scale = root.Word("scale", "bevel", "deflection") == "deflection" ? MarkScale.Deflection : MarkScale.Bevel;
        List<(Point2 Px, double Deg)> all = [];
        IReadOnlyList<FieldReader> given = root.Objects("graduations", [.. GraduationKeys]);
        foreach (FieldReader one in given)
        {
            IReadOnlyList<double> px = one.Numbers("px", Limits.NotNegative, "px");
            if (px.Count != 2)
                one.Fault("px", "a place in the photo [x, y], pixels from its top left, would be right");
            double deg = one.RequiredAngleDeg("deg", new Limits(-180, 180));
            if (px.Count == 2)
                all.Add((new(px[0], px[1]), deg));
        }

        if (given.Count < 4)
            root.Fault("graduations", "four or more, spread over the scale, each { px:[x, y], deg }, would be right");
        return new(scale, all);
    }
}

/// <summary>What graduations.json says.</summary>
/// <param name="Scale">What the degrees mean: bevel or deflection.</param>
/// <param name="Graduations">Place in the photo and what is written there; left of zero below zero.</param>
public sealed record GraduationsFile(MarkScale Scale, IReadOnlyList<(Point2 Px, double Deg)> Graduations);
