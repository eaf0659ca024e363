namespace Whetwright.Sight.Pictures;

/// <summary>What a picture may weigh before it is decoded. Both limits are chosen, not derived: the largest phone photos have some margin.</summary>
/// <param name="MaxBytes">Bytes of the file.</param>
/// <param name="MaxPixels">Width times height, from the header.</param>
public sealed record PictureLimits(long MaxBytes = 60_000_000, long MaxPixels = 60_000_000);
