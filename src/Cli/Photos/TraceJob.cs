using Whetwright.Cli.Commands;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>Traces a blade from one photo or two; the other door to the picture library.</summary>
internal static class TraceJob
{
    /// <summary>Traces; with <paramref name="annotate"/> the first photo comes back with what was traced drawn on it, a PNG, null where there is nothing to draw on.</summary>
    public static (TraceResult Result, IReadOnlyList<Derivation> Chain, byte[]? Annotated) Trace(
        string photo, string? second, MatSheet mat, double? edgeHeightMm, double? focal35Mm, bool annotate = false, MatSide? edgeToward = null, MatSide? heelToward = null, double? spineMm = null, bool? onFlank = null)
    {
        new PhotoFiles(photo) { Repeats = second is null ? [] : [second] }.Check();
        try
        {
            return Tracing.TraceAndDraw(PhotoSource.File(photo), second is null ? null : PhotoSource.File(second), mat, edgeHeightMm, focal35Mm, annotate, edgeToward, heelToward, spineMm, onFlank);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException(ReadCommand.Plain(e));
        }
    }
}
