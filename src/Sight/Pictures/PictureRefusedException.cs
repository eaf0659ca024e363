using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Pictures;

/// <summary>A file that is not a picture we can read; <see cref="Reason"/> says why and what to do.</summary>
public sealed class PictureRefusedException : Exception
{
    /// <summary>With the reason.</summary>
    public PictureRefusedException(Reason reason)
        : base(reason.Text) => Reason = reason;

    /// <summary>Why the file was refused.</summary>
    public Reason Reason { get; }
}
