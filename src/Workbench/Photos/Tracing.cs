using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Workbench.Photos;

/// <summary>Traces a blade from one photo on the mat or two, for the command line and the pages alike.</summary>
public static class Tracing
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "sight.trace/1";

    /// <summary>Traces; what cannot be traced comes back as a refusal with its reason.</summary>
    /// <exception cref="ArgumentException">What is told beside the photos is out of range.</exception>
    public static (TraceResult Result, IReadOnlyList<Derivation> Chain) Trace(PhotoSource photo, PhotoSource? second, MatSheet mat, double? edgeHeightMm, double? focal35Mm = null, MatSide? edgeToward = null, MatSide? heelToward = null, double? spineMm = null, bool? onFlank = null)
    {
        (TraceResult result, IReadOnlyList<Derivation> chain, _) = TraceAndDraw(photo, second, mat, edgeHeightMm, focal35Mm, draw: false, edgeToward, heelToward, spineMm, onFlank);
        return (result, chain);
    }

    /// <summary>The same, and the first photo with what was traced drawn on it as a PNG; null where it was not asked for or there is nothing to draw on.</summary>
    /// <exception cref="ArgumentException">What is told beside the photos is out of range.</exception>
    public static (TraceResult Result, IReadOnlyList<Derivation> Chain, byte[]? Drawn) TraceAndDraw(
        PhotoSource photo, PhotoSource? second, MatSheet mat, double? edgeHeightMm, double? focal35Mm, bool draw, MatSide? edgeToward = null, MatSide? heelToward = null, double? spineMm = null, bool? onFlank = null)
    {
        try
        {
            using Picture first = photo.Open();
            using Picture? other = second?.Open();
            TracedOutline traced = OutlineTracer.Trace(first, other, mat, edgeHeightMm is { } z ? Length.FromMillimetres(z) : null, focal35Mm, new BladeTold(edgeToward, heelToward, spineMm is { } thick ? Length.FromMillimetres(thick) : null, onFlank));
            return (Result(traced), traced.Explain(), draw ? OutlineAnnotation.ToPng(first, mat, traced) : null);
        }
        catch (PictureRefusedException e)
        {
            return (Refused(e.Reason), [], null);
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            return (Refused(PictureLibrary.Missing), [], null);
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
            LengthUMm = t.LengthUMm,
            HeightUMm = t.HeightUMm,
            Heights = [.. t.Heights.Select(h => (h.AtMm, h.HeightMm, h.UMm))],
            HeelOnMatMm = t.HeelOnMatMm,
            TipOnMatMm = t.TipOnMatMm,
            Chips = [.. t.Chips.Select(c => (c.AtMm, c.DepthMm, c.DepthUMm, c.WidthMm))],
            EdgeHeightMm = t.EdgeHeightFrom == EdgeHeightSource.Unknown ? null : t.EdgeHeightMm,
            EdgeHeightUMm = t.EdgeHeightUMm,
            ViewTiltDeg = t.ViewTilt.Degrees,
            ParallaxMm = t.ParallaxMm,
            UMm = t.UMm,
        };
}
