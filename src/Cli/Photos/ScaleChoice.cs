using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Photos;

/// <summary>What is told beside a photo of some other scale.</summary>
internal sealed record ScaleChoice(TipDirection? Tip, Instrument? Instrument, string? Laser, bool HasBack);
