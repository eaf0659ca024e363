using System.Text.Json;
using System.Text.Json.Serialization;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Reading;

namespace Whetwright.Workbench.Photos;

/// <summary>
/// The marks of one reading from photographs with all that makes its angles: kept with the reading, so that the angles can be made again, also after a hand moved,
/// named, added or left out a mark. Combined by the same function as every other reading.
/// </summary>
/// <param name="HasBack">A piece whose second face is its back.</param>
/// <param name="TipKnown">Whether anybody noted where the tip was.</param>
/// <param name="HolderRollDeg">Roll of the holder as the instrument knows it.</param>
/// <param name="ScatterDeg">Re-clamping scatter as the instrument knows it.</param>
/// <param name="Notes">What the numbers lean on, such as a default distance.</param>
/// <param name="Mounts">One for each placing, in the order they were read.</param>
public sealed record MarksInPhotos(
    bool HasBack, bool TipKnown, double? HolderRollDeg, double? ScatterDeg, IReadOnlyList<Reason> Notes, IReadOnlyList<MountInPhoto> Mounts)
{
    /// <summary>Name and version of the method where a hand had part in it; untouched readings keep <see cref="PhotoReading.Method"/>.</summary>
    public const string MethodByHand = "workbench.marks-by-hand/1";

    private static readonly JsonSerializerOptions Format = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower) },
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    };

    /// <summary>Version of the document.</summary>
    public int FormatVersion { get; init; } = 1;

    /// <summary>Form of the bevels, as it was told; null where nobody did.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public FacetForm? Form { get; init; }

    /// <summary>True where a hand moved, named, added or left out a mark.</summary>
    [JsonIgnore]
    public bool ByHand => Mounts.Any(m => m.ByHand);

    /// <summary>Name and version of the method.</summary>
    [JsonIgnore]
    public string Method => ByHand ? MethodByHand : PhotoReading.Method;

    /// <summary>What was seen in the photos.</summary>
    /// <param name="seen">Read by Sight: the first placing and, where there is one, the turned.</param>
    /// <param name="choice">What was told beside.</param>
    /// <param name="photos">The photos of each placing.</param>
    public static MarksInPhotos Of(PhotoReading seen, PhotoChoice choice, IReadOnlyList<PhotosOfMount> photos)
    {
        Reason? distance = PhotoReadings.DistanceNote(seen.DistanceIsDefault, choice);
        MarksInPhotos empty = new(
            choice.HasBack, choice.Tip is not null, choice.Instrument?.HolderRoll?.Degrees, choice.Instrument?.Scatter?.Degrees, distance is null ? [] : [distance], [])
        {
            Form = choice.Form,
        };
        return seen.Mounts.Zip(photos).Aggregate(empty, (all, mount) => all.With(mount.First, mount.Second));
    }

    /// <summary>With one more placing.</summary>
    public MarksInPhotos With(MountReading seen, PhotosOfMount photos)
    {
        int next = Mounts.SelectMany(m => m.Marks).Select(m => m.Number).DefaultIfEmpty(0).Max() + 1;
        return this with { Mounts = [.. Mounts, MountInPhoto.Of(seen, photos, next)] };
    }

    /// <summary>Reads the document.</summary>
    /// <exception cref="InvalidDataException">It is not one.</exception>
    public static MarksInPhotos Read(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<MarksInPhotos>(json, Format) ?? throw new InvalidDataException("No marks are stored.");
        }
        catch (JsonException e)
        {
            throw new InvalidDataException($"The stored marks cannot be read: {e.Message}", e);
        }
    }

    /// <summary>The document.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Format);

    /// <summary>A mark put elsewhere by hand; one that stood for nothing is taken for the edge's.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="photoPx">Where, in its photo.</param>
    public MarksInPhotos Moved(int number, Point2 photoPx) => Change(number, (mount, mark) =>
        mount.Placed(mark with { PhotoPx = mount.Within(photoPx), ByHand = true, Used = true, Role = mark.Role ?? MarkRole.Edge, Seen = null, Clarity = null, RangeDeg = null }));

    /// <summary>A mark taken for something else, or taken into use. The one that stood for that on its side is left out.</summary>
    public MarksInPhotos Named(int number, MarkRole role) => Change(number, (mount, mark) =>
        mount.Placed(mark with { Role = role, Used = true, Touched = true }));

    /// <summary>A mark left out.</summary>
    public MarksInPhotos LeftOut(int number) => Change(number, (mount, mark) => mount.Placed(mark with { Used = false, Touched = true }));

    /// <summary>One more mark, placed by hand.</summary>
    /// <param name="mount">Which placing, from 0.</param>
    /// <param name="photoPx">Where, in its photo.</param>
    /// <param name="role">What it comes from.</param>
    public MarksInPhotos Added(int mount, Point2 photoPx, MarkRole role)
    {
        if (mount < 0 || mount >= Mounts.Count)
            throw new ArgumentOutOfRangeException(nameof(mount), mount, $"One of the {Mounts.Count} placings would be right.");
        if (Mounts[mount].Frame is not { } frame)
            throw new ArgumentOutOfRangeException(nameof(mount), mount, "The sheet was not found in this photo, so no place in it can be measured. Take the photo again.");
        Point2 at = Mounts[mount].Within(photoPx);
        MarkInPhoto mark = new(Mounts.SelectMany(m => m.Marks).Select(m => m.Number).DefaultIfEmpty(0).Max() + 1, frame.FromZeroMm(at).X < frame.BeamAcrossMm ? Side.Left : Side.Right, at)
        {
            Role = role,
            Used = true,
            ByHand = true,
        };
        return Put(mount, Mounts[mount].Placed(mark));
    }

    /// <summary>The placing and the mark of a number; null for none.</summary>
    public (int Mount, MarkInPhoto Mark)? Find(int number)
    {
        for (int i = 0; i < Mounts.Count; i++)
        {
            if (Mounts[i].Marks.FirstOrDefault(m => m.Number == number) is { } mark)
                return (i, mark);
        }

        return null;
    }

    /// <summary>The angles.</summary>
    public CombinedReading Combine()
    {
        List<ReadingObservation> used = [.. Mounts.SelectMany((m, i) => m.Observations(i))];
        List<Reason> reasons = [.. Mounts.SelectMany((m, i) => m.ByHand ? [] : m.Reasons.Select(r => Mounts.Count == 1 ? r : r with { Text = $"{PhotoName(i)}: {r.Text}" }))];
        if (ByHand)
        {
            string which = string.Join(", ", Mounts.SelectMany(m => m.Marks).Where(m => m.ByHand && m.Used).Select(m => m.Number));
            reasons.Add(new("marks-by-hand", which.Length == 0
                ? "A person said which marks count."
                : FormattableString.Invariant($"A person placed mark {which}: each is taken as known to {PhotoFrame.HandUMm} mm on the sheet (chosen, not derived).")));
        }

        IReadOnlyList<ReadMark> marks = [.. Mounts.SelectMany((m, i) => m.Shown(i))];
        if (used.All(o => o.Role != MarkRole.Edge))
        {
            if (reasons.Count == 0 || ByHand)
                reasons.Add(new("no-edge-mark", "No mark stands for the edge: say which is the edge's, on either side."));
            return PhotoResult.Nothing(reasons) with { Marks = marks };
        }

        CombinedReading combined;
        ReadingOutcome outcome;
        try
        {
            (outcome, combined, IReadOnlyList<Reason> said) = PhotoReader.Combine(used, Knowledge(), Form);
            reasons.AddRange(said);
        }
        catch (ArgumentException e)
        {
            return PhotoResult.Nothing([.. reasons, new("mark-out-of-reach", Faults.Plain(e))]) with { Marks = marks };
        }

        if (outcome == ReadingOutcome.Refused)
            return PhotoResult.Nothing(reasons) with { Marks = marks };
        return combined with
        {
            Outcome = outcome,
            Reasons = [.. reasons, .. Notes],
            Included = outcome == ReadingOutcome.Read ? combined.Included : null,
            Marks = marks,
            Sides = [.. combined.Sides.Select(s => s with { Clarity = EdgeOf(s.Target)?.Clarity })],
        };
    }

    private MarkInPhoto? EdgeOf(Side target) => Mounts[0].Marks.FirstOrDefault(m => m.Used && m.Role == MarkRole.Edge && m.Target == target);

    private ReadingKnowledge Knowledge()
    {
        Dictionary<Side, FacetRange> ranges = [];
        foreach (Side target in (Side[])[Side.Left, Side.Right])
        {
            if (Form != FacetForm.Flat && EdgeOf(target)?.RangeDeg is [var inner, var outer])
                ranges[target] = FacetCurvature.EndsOfSmear(Angle.FromDegrees(inner), Angle.FromDegrees(outer), Form ?? FacetForm.Convex);
        }

        return new()
        {
            HasBack = HasBack,
            TipKnown = TipKnown,
            HolderRoll = HolderRollDeg is { } roll ? Angle.FromDegrees(roll) : null,
            Scatter = ScatterDeg is { } scatter ? Angle.FromDegrees(scatter) : null,
            Ranges = ranges,
        };
    }

    private string PhotoName(int mount) => mount == 0 ? "First photo"
        : mount == 1 && Mounts[1].Tip != Mounts[0].Tip ? "Turned photo"
        : FormattableString.Invariant($"Photo {mount + 1}");

    private MarksInPhotos Change(int number, Func<MountInPhoto, MarkInPhoto, MountInPhoto> change) =>
        Find(number) is { } found
            ? Put(found.Mount, change(Mounts[found.Mount], found.Mark))
            : throw new ArgumentOutOfRangeException(nameof(number), number, "No mark has this number; the number of one in the photo would be right.");

    private MarksInPhotos Put(int mount, MountInPhoto made) => this with { Mounts = [.. Mounts.Select((m, i) => i == mount ? made : m)] };
}
