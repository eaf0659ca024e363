using System.Text.Json.Serialization;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Reading;

namespace Whetwright.Workbench.Photos;

/// <summary>The photos of one placing, by their keys in the book.</summary>
/// <param name="LitId">The lit photo; null where it is in no book.</param>
/// <param name="DarkId">The dark photo.</param>
/// <param name="Tip">Where the tip was.</param>
public sealed record PhotosOfMount(long? LitId, long? DarkId, TipDirection Tip);

/// <summary>One placing: the photo's frame and the marks in it.</summary>
/// <param name="LitId">The lit photo's key in the book.</param>
/// <param name="DarkId">The dark photo's.</param>
/// <param name="Tip">Where the tip was.</param>
/// <param name="Frame">How places read as bevels; null where the sheet was not found.</param>
/// <param name="Marks">The marks, numbered.</param>
/// <param name="Reasons">Why nothing, or less than all, was found.</param>
public sealed record MountInPhoto(
    long? LitId, long? DarkId, TipDirection Tip, PhotoFrame? Frame, IReadOnlyList<MarkInPhoto> Marks, IReadOnlyList<Reason> Reasons)
{
    /// <summary>A hand moved, named, added or left out a mark here.</summary>
    [JsonIgnore]
    public bool ByHand => Marks.Any(m => m.ByHand || m.Touched);

    internal static MountInPhoto Of(MountReading seen, PhotosOfMount photos, int firstNumber)
    {
        // Facets first, from left to right, so that their numbers are small; then the rest.
        SeenMark[] ordered = [.. seen.Marks.OrderBy(m => m.AsRead is null ? 1 : 0).ThenBy(m => m.TargetMm.X)];
        return new(photos.LitId, photos.DarkId, photos.Tip, seen.Frame, [.. ordered.Select((m, i) => MarkInPhoto.Of(m, firstNumber + i, seen))], seen.Reasons);
    }

    internal Point2 Within(Point2 photoPx)
    {
        if (Frame is not { } frame)
            throw new ArgumentException("The sheet was not found in this photo, so no place in it can be measured. Take the photo again.", nameof(photoPx));
        if (!(photoPx.X >= 0 && photoPx.X < frame.WidthPx && photoPx.Y >= 0 && photoPx.Y < frame.HeightPx))
        {
            throw new ArgumentException(FormattableString.Invariant(
                $"The place {photoPx.X:0}, {photoPx.Y:0} lies outside the photo; within {frame.WidthPx} × {frame.HeightPx} px would be right."), nameof(photoPx));
        }

        return photoPx;
    }

    /// <summary>With this mark in place of the one of its number, or as one more; no other mark of its side stands for the same.</summary>
    internal MountInPhoto Placed(MarkInPhoto mark)
    {
        bool known = Marks.Any(m => m.Number == mark.Number);
        IEnumerable<MarkInPhoto> others = Marks.Select(m => m.Number == mark.Number ? mark
            : mark.Used && m.Used && m.Target == mark.Target && m.Role == mark.Role ? m with { Used = false, Touched = true } : m);
        return this with { Marks = known ? [.. others] : [.. others, mark] };
    }

    internal IEnumerable<ReadingObservation> Observations(int mount) =>
        Marks.Where(m => m.Used).Select(m => m.Observation(mount, Tip, Frame)).OfType<ReadingObservation>();

    internal IEnumerable<ReadMark> Shown(int mount)
    {
        foreach (MarkInPhoto mark in Marks)
        {
            // A facet that was seen and not trusted is shown, too; a stray is not.
            if (mark.Observation(mount, Tip, Frame) is { } o && Frame is { } frame && (mark.Used || mark.Seen is not null))
            {
                double u = Math.Sqrt(o.Noise.Sum(n => n.UncertaintyDeg * n.UncertaintyDeg) + o.Common.Sum(c => c.DegPerU * c.DegPerU));
                Point2 fromZero = frame.FromZeroMm(mark.PhotoPx);
                yield return new(mount, mark.Target, o.Role, mark.SheetMm ?? new(fromZero.X + frame.ZeroMm.X, fromZero.Y + frame.ZeroMm.Y), mark.PhotoPx, new(o.AsRead, Angle.FromDegrees(u)));
            }
        }
    }
}

/// <summary>A mark in a photo.</summary>
/// <param name="Number">Its number on the photo, once in a reading.</param>
/// <param name="Target">Side of the target.</param>
/// <param name="PhotoPx">Where, in the photo.</param>
public sealed record MarkInPhoto(int Number, Side Target, Point2 PhotoPx)
{
    /// <summary>What it comes from; null for what is no facet.</summary>
    public MarkRole? Role { get; init; }

    /// <summary>What it was taken for when it was found; null for one added by hand.</summary>
    public SeenRole? SeenAs { get; init; }

    /// <summary>Whether the angles rest on it.</summary>
    public bool Used { get; init; }

    /// <summary>Placed by hand.</summary>
    public bool ByHand { get; init; }

    /// <summary>Named or left out by hand.</summary>
    public bool Touched { get; init; }

    /// <summary>Its place on the sheet as found, mm; null where a hand placed it.</summary>
    public Point2? SheetMm { get; init; }

    /// <summary>Clarity, 0 to 1.</summary>
    public double? Clarity { get; init; }

    /// <summary>Part of its brighter half that is burnt out in the photo, 0 to 1.</summary>
    public double BurntOut { get; init; }

    /// <summary>Peak over noise; 0 where a hand placed it.</summary>
    public double SignalToNoise { get; init; }

    /// <summary>Range over a curved facet, inner and outer.</summary>
    public IReadOnlyList<double>? RangeDeg { get; init; }

    /// <summary>The bevel as it was found; null where a hand placed the mark.</summary>
    public SeenBevel? Seen { get; init; }

    internal static MarkInPhoto Of(SeenMark mark, int number, MountReading mount) => new(number, mark.Target, mark.PhotoPx)
    {
        Role = mark.Role switch { SeenRole.Edge => MarkRole.Edge, SeenRole.Primary => MarkRole.Primary, SeenRole.Micro => MarkRole.Micro, _ => null },
        SeenAs = mark.Role,
        Used = mark.Observation is { } o && mount.Observations.Any(used => used.Target == o.Target && used.Role == o.Role && used.PhotoPx == o.PhotoPx),
        SheetMm = mark.TargetMm,
        Clarity = mark.Clarity,
        BurntOut = mark.BurntOut,
        SignalToNoise = mark.SignalToNoise,
        RangeDeg = mark.Range is { } range ? [range.Inner.Degrees, range.Outer.Degrees] : null,
        Seen = mark.Observation is { } seen ? new(seen.AsRead.Degrees, seen.AtMm ?? default, [.. seen.Noise], [.. seen.Common]) : null,
    };

    internal ReadingObservation? Observation(int mount, TipDirection tip, PhotoFrame? frame)
    {
        if (Role is not { } role)
            return null;
        if (Seen is { } seen)
            return new(mount, tip, Target, role, Angle.FromDegrees(seen.Deg), seen.Noise, seen.Common) { AtMm = seen.AtMm, PhotoPx = PhotoPx };
        return frame?.Pointed(mount, tip, Target, role, PhotoPx);
    }
}

/// <summary>A bevel as found, with what its doubt is made of.</summary>
/// <param name="Deg">Bevel as read.</param>
/// <param name="AtMm">Place on the target from its zero.</param>
/// <param name="Noise">Its own doubt.</param>
/// <param name="Common">Doubt that it shares.</param>
public sealed record SeenBevel(double Deg, Point2 AtMm, IReadOnlyList<NoisePart> Noise, IReadOnlyList<CommonPart> Common);
