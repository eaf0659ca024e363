using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>distances.json: how far the target stood, photo by photo. Described in docs/formats/distances.schema.json.</summary>
public static class DistancesFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["photos"];

    /// <summary>Keys of a photo.</summary>
    public static IReadOnlyList<string> PhotoKeys { get; } = ["photo", "distanceMm", "distanceUMm"];

    /// <summary>What a distance may be, mm.</summary>
    public static Limits Distance { get; } = new(5, 5000);

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<IReadOnlyList<PhotoDistance>> Read(string json) => FieldReader.Document<IReadOnlyList<PhotoDistance>>(json, Keys, From);

    private static List<PhotoDistance> From(FieldReader root)
    {
        if (!root.Has("photos"))
            root.Fault("photos", "missing; a list of {\"photo\":…, \"distanceMm\":…, \"distanceUMm\":…} would be right");
        List<PhotoDistance> read = [];
        foreach (FieldReader one in root.Objects("photos", [.. PhotoKeys]))
        {
            string? photo = one.Text("photo");
            if (string.IsNullOrWhiteSpace(photo))
                one.Fault("photo", "the name of a photo or of a sub-folder would be right");
            double mm = one.RequiredLengthMm("distanceMm", Distance);
            double? u = one.LengthMm("distanceUMm", Limits.NotNegative);
            if (!string.IsNullOrWhiteSpace(photo) && double.IsFinite(mm))
                read.Add(new(photo, Length.FromMillimetres(mm), u is { } v && double.IsFinite(v) ? Length.FromMillimetres(v) : null));
        }

        return read;
    }
}

/// <summary>How far the target stood when one photo was taken.</summary>
/// <param name="Photo">Name of the photo, or of its folder.</param>
/// <param name="Distance">From the edge to the target.</param>
/// <param name="Uncertainty">Its standard uncertainty; null: the default.</param>
public sealed record PhotoDistance(string Photo, Length Distance, Length? Uncertainty);
