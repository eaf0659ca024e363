using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>
/// A piece as it was measured. Only the edge is always there; a length that nobody gave is null, and what would need it is left out with
/// <see cref="Missing"/> as the reason. A value that is a default says so in <see cref="Defaults"/>.
/// </summary>
public sealed record Blade
{
    /// <summary>What the person calls it; may be empty.</summary>
    public string Name { get; init; } = "";

    /// <summary>The kind; a double bevel where nothing is said.</summary>
    public PieceKind Kind { get; init; } = PieceKind.DoubleBevel;

    /// <summary>For which hand the piece is made: the bevelled side of a single bevel, how scissors ride. Null where it makes no difference or is not known.</summary>
    public Side? Hand { get; init; }

    /// <summary>The edge.</summary>
    public required EdgeCurve Edge { get; init; }

    /// <summary>Angle of each flank to the mid-plane behind the edge bevel.</summary>
    public Angle? PrimaryHalf { get; init; }

    /// <summary>Thickness at the shoulder, where the edge bevel ends.</summary>
    public Length? BehindEdge { get; init; }

    /// <summary>Width of the blunt strip at the apex.</summary>
    public Length? Land { get; init; }

    /// <summary>Thickness of the spine.</summary>
    public Length? Spine { get; init; }

    /// <summary>Spine to edge, at the heel.</summary>
    public Length? Height { get; init; }

    /// <summary>Where the handle or bolster begins, as x in the blade frame; negative behind the heel.</summary>
    public Length? HandleFrom { get; init; }

    /// <summary>How the edge departs from the mid-plane; null for a straight blade.</summary>
    public Bend? Bend { get; init; }

    /// <summary>Names of fields whose value is a default that nobody measured, such as <c>kind</c>.</summary>
    public IReadOnlySet<string> Defaults { get; init; } = new HashSet<string>(StringComparer.Ordinal);

    /// <summary>What angles of this piece are measured from.</summary>
    public AngleReference Reference => Kind.Reference();

    /// <summary>A piece from a parametric shape: edge and height at the heel.</summary>
    public static Blade FromShape(BladeShape shape, string name = "", PieceKind kind = PieceKind.DoubleBevel) => new()
    {
        Name = name,
        Kind = kind,
        Edge = EdgeCurve.FromShape(shape),
        Height = Length.FromMillimetres(shape.HeightMm),
    };

    /// <summary>The reason that stands where a result would need a length that was not given.</summary>
    /// <param name="field">The field in the file: <c>behindEdgeMm</c>.</param>
    /// <param name="result">What is left out: <c>the section</c>.</param>
    public static Reason Missing(string field, string result) =>
        new("not-given", $"{field} is not given, so {result} is left out; measure it and add {field} to have it.");

    /// <summary>What is wrong with the piece's own numbers, each naming its field in the file; empty where nothing is.</summary>
    public IReadOnlyList<Reason> Refusals()
    {
        List<Reason> reasons = [];
        InRange("behindEdgeMm", BehindEdge, 0, 20);
        InRange("landMm", Land, 0, 5);
        InRange("spineMm", Spine, 0, 50);
        InRange("heightMm", Height, 0, 1000);
        if (PrimaryHalf is { } half && half.Degrees is < 0 or >= 45)
            reasons.Add(new("blade-field", $"primaryHalfDeg is {half}; it should be from 0 to less than 45."));
        if (BehindEdge is { } behind && Spine is { } spine && behind > spine)
            reasons.Add(new("blade-field", $"behindEdgeMm is {behind}, thicker than the spine's {spine}; measure both again."));
        if (Land is { } land && BehindEdge is { } shoulder && land > shoulder)
            reasons.Add(new("blade-field", $"landMm is {land}, wider than the {shoulder} behind the edge; measure both again."));
        return reasons;

        void InRange(string field, Length? value, double least, double most)
        {
            if (value is { } length && (length.Millimetres < least || length.Millimetres > most))
                reasons.Add(new("blade-field", $"{field} is {length}; it should be from {least} to {most} mm."));
        }
    }
}
