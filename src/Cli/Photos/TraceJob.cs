using Whetwright.Cli.Commands;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>Traces a blade from one photo or two; the other door to the picture library.</summary>
internal static class TraceJob
{
    public static (TraceResult Result, IReadOnlyList<Derivation> Chain) Trace(string photo, string? second, MatSheet mat, double? edgeHeightMm, double? focal35Mm)
    {
        new PhotoFiles(photo) { Repeats = second is null ? [] : [second] }.Check();
        try
        {
            return Tracing.Trace(PhotoSource.File(photo), second is null ? null : PhotoSource.File(second), mat, edgeHeightMm, focal35Mm);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException(ReadCommand.Plain(e));
        }
    }
}
