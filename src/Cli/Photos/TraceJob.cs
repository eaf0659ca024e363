using Whetwright.Cli.Commands;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Cli.Photos;

/// <summary>Traces a blade from one photo or two; the other door to the picture library.</summary>
internal static class TraceJob
{
    public static (TraceResult Result, IReadOnlyList<Derivation> Chain) Trace(string photo, string? second, MatSheet mat, double? edgeHeightMm, double? focal35Mm)
    {
        new PhotoFiles(photo) { Repeats = second is null ? [] : [second] }.Check();
        try
        {
            using Picture first = Open(photo);
            using Picture? other = second is null ? null : Open(second);
            TracedOutline traced = OutlineTracer.Trace(first, other, mat, edgeHeightMm is { } z ? Length.FromMillimetres(z) : null, focal35Mm);
            return (Result(traced), traced.Explain());
        }
        catch (PictureRefusedException e)
        {
            return (Refused(e.Reason), []);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException(ReadCommand.Plain(e));
        }
        catch (Exception e) when (NativeLibrary.IsMissing(e))
        {
            return (Refused(NativeLibrary.Missing), []);
        }
    }

    private static Picture Open(string path)
    {
        try
        {
            return Picture.Read(path);
        }
        catch (PictureRefusedException e)
        {
            throw new PictureRefusedException(e.Reason with { Text = $"{path}: {e.Reason.Text}" });
        }
    }

    private static TraceResult Refused(Reason reason) => new() { Refused = true, Reasons = [reason] };

    private static TraceResult Result(TracedOutline t) => t.Outcome == TraceOutcome.Refused
        ? new() { Refused = true, Reasons = t.Reasons }
        : new()
        {
            Refused = false,
            Reasons = t.Reasons,
            EdgeMm = t.EdgeMm,
            EdgeOnMatMm = t.EdgeOnMatMm,
            EdgeAsSeenMm = t.EdgeAsSeenMm,
            OutlineOnMatMm = t.OutlineOnMatMm,
            LengthMm = t.LengthMm,
            HeightMm = t.HeightMm,
            Heights = [.. t.Heights.Select(h => (h.AtMm, h.HeightMm))],
            HeelOnMatMm = t.HeelOnMatMm,
            TipOnMatMm = t.TipOnMatMm,
            Chips = [.. t.Chips.Select(c => (c.AtMm, c.DepthMm, c.WidthMm))],
            EdgeHeightMm = t.EdgeHeightFrom == EdgeHeightSource.Unknown ? null : t.EdgeHeightMm,
            EdgeHeightUMm = t.EdgeHeightUMm,
            ViewTiltDeg = t.ViewTilt.Degrees,
            ParallaxMm = t.ParallaxMm,
            UMm = t.UMm,
        };
}
