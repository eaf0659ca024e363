using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>trace</c> writes: an outline from a photo on the mat, or why there is none. Described in docs/formats/trace-result.schema.json.</summary>
public sealed record TraceResult
{
    /// <summary>True where nothing was traced.</summary>
    public required bool Refused { get; init; }

    /// <summary>Why refused, or what to bear in mind.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>The smooth edge, blade frame: origin at the heel, x along the chord to the tip, y outward.</summary>
    public IReadOnlyList<Point2> EdgeMm { get; init; } = [];

    /// <summary>The edge as it is, on the mat, parallax taken out.</summary>
    public IReadOnlyList<Point2> EdgeOnMatMm { get; init; } = [];

    /// <summary>The edge as it appears on the mat's plane, parallax left in.</summary>
    public IReadOnlyList<Point2> EdgeAsSeenMm { get; init; } = [];

    /// <summary>Outline of blade and handle on the mat.</summary>
    public IReadOnlyList<Point2> OutlineOnMatMm { get; init; } = [];

    /// <summary>Heel to tip, straight; null where refused.</summary>
    public double? LengthMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double? LengthUMm { get; init; }

    /// <summary>Largest height of the blade as a calliper reads it, from the edge the shortest way to the spine.</summary>
    public double? HeightMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double? HeightUMm { get; init; }

    /// <summary>Height at stations along the chord, square to it, each with its standard uncertainty.</summary>
    public IReadOnlyList<(double AtMm, double HeightMm, double UMm)> Heights { get; init; } = [];

    /// <summary>Heel on the mat.</summary>
    public Point2? HeelOnMatMm { get; init; }

    /// <summary>Tip on the mat.</summary>
    public Point2? TipOnMatMm { get; init; }

    /// <summary>Chips, heel to tip; with the depth goes its standard uncertainty.</summary>
    public IReadOnlyList<(double AtMm, double DepthMm, double DepthUMm, double WidthMm)> Chips { get; init; } = [];

    /// <summary>Height of the edge over the mat, told or measured; null where not known.</summary>
    public double? EdgeHeightMm { get; init; }

    /// <summary>Its standard uncertainty; where it is not known, the usual height that stands in for the doubt.</summary>
    public double? EdgeHeightUMm { get; init; }

    /// <summary>Tilt of the camera against the mat's normal.</summary>
    public double? ViewTiltDeg { get; init; }

    /// <summary>How far the edge appears shifted, root mean square along it.</summary>
    public double? ParallaxMm { get; init; }

    /// <summary>Standard uncertainty of a place of the edge, across it.</summary>
    public double? UMm { get; init; }

    /// <summary>Writes the fields into an open object.</summary>
    public void Write(Utf8JsonWriter json)
    {
        json.WriteString("outcome", Refused ? "refused" : "traced");
        json.Reasons(Reasons);
        json.Points("edgeMm", EdgeMm);
        json.Points("edgeOnMatMm", EdgeOnMatMm);
        json.Points("edgeAsSeenMm", EdgeAsSeenMm);
        json.Points("outlineOnMatMm", OutlineOnMatMm);
        json.Number("lengthMm", LengthMm);
        json.Number("lengthUMm", LengthUMm);
        json.Number("heightMm", HeightMm);
        json.Number("heightUMm", HeightUMm);
        json.List("heights", Heights, h =>
        {
            json.Number("atMm", h.AtMm);
            json.Number("heightMm", h.HeightMm);
            json.Number("uMm", h.UMm);
        });
        json.Point("heelOnMatMm", HeelOnMatMm);
        json.Point("tipOnMatMm", TipOnMatMm);
        json.List("chips", Chips, c =>
        {
            json.Number("atMm", c.AtMm);
            json.Number("depthMm", c.DepthMm);
            json.Number("depthUMm", c.DepthUMm);
            json.Number("widthMm", c.WidthMm);
        });
        json.Number("edgeHeightMm", EdgeHeightMm);
        json.Number("edgeHeightUMm", EdgeHeightUMm);
        json.Number("viewTiltDeg", ViewTiltDeg);
        json.Number("parallaxMm", ParallaxMm);
        json.Number("uMm", UMm);
    }

    /// <summary>The blade file that <c>set</c> and <c>visit</c> read: the smooth edge and the height, the rest to be measured.</summary>
    public string BladeText(string name) => JsonResults.Document(json =>
    {
        json.WriteString("note", FormattableString.Invariant($"Traced from a photo: edge to ±{2 * UMm ?? 0:0.0} mm, height to ±{2 * HeightUMm ?? 0:0.0} mm (k = 2). Spine, thickness behind the edge and land are not in a photo: measure them."));
        json.WriteString("name", name);
        json.Points("edgeMm", EdgeMm.Select(p => new Point2(Math.Round(p.X, 3), Math.Round(p.Y, 3))));
        json.Number("heightMm", Math.Round(HeightMm ?? 0, 1));
    });
}
