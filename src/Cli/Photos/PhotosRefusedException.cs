using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Photos;

/// <summary>Photographs that a calibration needs could not be read. Ends with <see cref="ExitCode.WorkRefused"/> and the reasons.</summary>
public sealed class PhotosRefusedException(IReadOnlyList<Reason> reasons) : Exception(string.Join(' ', reasons.Select(r => r.Text)))
{
    /// <summary>Why, and what to do next.</summary>
    public IReadOnlyList<Reason> Reasons { get; } = reasons;
}
