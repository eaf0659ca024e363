using System.ComponentModel;
using System.Text.Json.Nodes;

namespace Whetwright.Web.Features.Api;

/// <summary>Pieces that fit.</summary>
public sealed record PiecesFound([property: Description("Nearest by name first.")] IReadOnlyList<PieceLine> Pieces);

/// <summary>A piece in a list.</summary>
public sealed record PieceLine(
    long Id, string Name, [property: Description("Kind as in our blade format, such as double-bevel.")] string Kind, double? LengthMm, string OwnerName,
    [property: Description("Tag with check digit while the piece is in the shop.")] string? Tag, [property: Description("The open visit.")] long? VisitId, DateTime? LastTakenInAt);

/// <summary>One piece.</summary>
public sealed record PieceOut(
    long Id, string Name, string Kind, string? Hand, double? LengthMm, string? Steel, string OwnerName,
    [property: Description("The blade in our blade format, as far as it is known; null where not even its length is.")] JsonNode? Blade,
    [property: Description("Why there is no blade, and what to measure.")] IReadOnlyList<string> BladeMissing,
    [property: Description("Lengths in the blade that nobody measured and a stated default stands in for.")] IReadOnlyList<string> BladeDefaults,
    [property: Description("The visit that readings go to; null while the piece is not in the shop.")] VisitOut? OpenVisit);

/// <summary>A visit.</summary>
public sealed record VisitOut(
    long Id, string Tag, DateTime TakenInAt, [property: Description("The step at the bench that comes next; null when it is ready.")] string? Next,
    [property: Description("Readings of this visit that stand, in order.")] IReadOnlyList<long> ReadingIds);

/// <summary>A reading to store: marks, or a finished measurement.</summary>
public sealed class ReadingIn
{
    [Description("found: the edge it came with; check: the edge after the work.")]
    public required string Purpose { get; init; }

    [Description("When it was read, UTC; now where it is left out.")]
    public DateTime? HappenedAt { get; init; }

    [Description("Name of the instrument or program, kept with the reading.")]
    public string? By { get; init; }

    [Description("Marks in our marks format (docs/formats/marks.schema.json). Either this or measured.")]
    public JsonNode? Marks { get; init; }

    [Description("With marks: the instrument in our instrument format; without one the labelled defaults stand in.")]
    public JsonNode? Instrument { get; init; }

    [Description("The finished measurement of another instrument. Either this or marks.")]
    public MeasuredIn? Measured { get; init; }
}

/// <summary>Angles from another instrument. At least one angle, each with its standard uncertainty.</summary>
public sealed class MeasuredIn
{
    [Description("How it was measured, in words or as a name: it is stored as the reading's method.")]
    public required string Method { get; init; }

    [Description("Version of the method or firmware.")]
    public string? MethodVersion { get; init; }

    [Description("Left side of the blade, degrees from the mid-plane.")]
    public double? LeftDeg { get; init; }

    [Description("Its standard uncertainty, k = 1.")]
    public double? LeftUDeg { get; init; }

    [Description("Right side of the blade.")]
    public double? RightDeg { get; init; }

    [Description("Its standard uncertainty.")]
    public double? RightUDeg { get; init; }

    [Description("Included angle; the sum of both sides where it is left out.")]
    public double? IncludedDeg { get; init; }

    [Description("Its standard uncertainty.")]
    public double? IncludedUDeg { get; init; }
}

/// <summary>A stored reading.</summary>
public sealed record ReadingOut(
    long Id, long VisitId, long PieceId, string Purpose, DateTime HappenedAt, DateTime EnteredAt, string? EnteredBy, string Method, string MethodVersion,
    [property: Description("read, one-side or refused.")] string Outcome, double? IncludedDeg, double? IncludedUDeg, double? LeftDeg, double? LeftUDeg, double? RightDeg, double? RightUDeg,
    [property: Description("The earlier reading that this one corrects.")] long? CorrectsId,
    [property: Description("A later reading corrects or takes back this one.")] bool Corrected,
    [property: Description("The whole result as read --json writes it.")] JsonNode? Result);

/// <summary>What to make a setting for: blade and rig as documents, or a piece and a rig of the shop.</summary>
public sealed class SettingIn
{
    [Description("The blade in our blade format.")]
    public JsonNode? Blade { get; init; }

    [Description("Or a piece of the book.")]
    public long? PieceId { get; init; }

    [Description("The rig in our rig format.")]
    public JsonNode? Rig { get; init; }

    [Description("Or a rig of the shop, with today's diameters and as it stands now.")]
    public long? RigId { get; init; }

    [Description("Angle wanted per side; from the back for pieces with one. May be left out for a piece whose open visit has a chosen edge.")]
    public double? AngleDeg { get; init; }

    [Description("How far the angle may stray before a second clamp is looked for; 0.5 where it is left out.")]
    public double? ToleranceDeg { get; init; }

    [Description("The stretch that counts, along the edge from the heel: [from, to].")]
    public IReadOnlyList<double>? ScoreMm { get; init; }

    [Description("A given clamp, evaluated instead of searched: the pivot's foot in the blade frame, [x, y].")]
    public IReadOnlyList<double>? PivotMm { get; init; }

    [Description("With pivotMm: a given bar distance, pivot height or lift.")]
    public double? SettingMm { get; init; }

    [Description("Only this wheel.")]
    public string? Wheel { get; init; }
}
