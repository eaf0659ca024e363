using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>blade.json: a piece as measured. Described in docs/formats/blade.schema.json.</summary>
public static class BladeFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
    [
        "name", "kind", "hand", "edgeMm", "shape", "primaryHalfDeg", "behindEdgeMm", "landMm", "spineMm", "heightMm", "handleFromMm", "bendMm",
    ];

    /// <summary>Keys of a parametric shape.</summary>
    public static IReadOnlyList<string> ShapeKeys { get; } = ["lengthMm", "heightMm", "bellyFromMm", "tipDropMm"];

    private static readonly string[] Kinds = [.. PieceKinds.All.Select(k => k.Key())];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<Blade> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static PieceKind? ReadKind(FieldReader root) => root.Word("kind", Kinds) is { } key ? PieceKinds.FromKey(key) : null;

    internal static Blade? From(FieldReader root)
    {
        string name = root.Text("name") ?? "";
        PieceKind? kind = ReadKind(root);
        Side? hand = root.Word("hand", "left", "right") switch { "left" => Side.Left, "right" => Side.Right, _ => null };
        EdgeCurve? edge = ReadEdge(root, out double? shapeHeightMm);
        double? half = root.AngleDeg("primaryHalfDeg", new Limits(0, 44.9));
        Length? behind = root.Length("behindEdgeMm", new Limits(0, 20));
        Length? land = root.Length("landMm", new Limits(0, 5));
        Length? spine = root.Length("spineMm", new Limits(0, 50));
        Length? height = root.Length("heightMm", Limits.PositiveTo(1000)) ?? (shapeHeightMm is { } h ? Length.FromMillimetres(h) : null);
        Length? handle = root.Length("handleFromMm", new Limits(-1000, EdgeCurve.LongestMm));
        if (edge is null)
            return null;
        Bend? bend = ReadBend(root, edge);
        Blade blade = new()
        {
            Name = name,
            Kind = kind ?? PieceKind.DoubleBevel,
            Hand = hand,
            Edge = edge,
            PrimaryHalf = half is { } a ? Angle.FromDegrees(a) : null,
            BehindEdge = behind,
            Land = land,
            Spine = spine,
            Height = height,
            HandleFrom = handle,
            Bend = bend,
            Defaults = kind is null ? new HashSet<string>(StringComparer.Ordinal) { "kind" } : new HashSet<string>(StringComparer.Ordinal),
        };
        foreach (Reason reason in blade.Refusals())
        {
            string field = reason.Text.Split(' ')[0];
            root.Fault(Keys.Contains(field, StringComparer.Ordinal) ? field : "edgeMm", reason.Text);
        }

        return blade;
    }

    private static EdgeCurve? ReadEdge(FieldReader root, out double? heightMm)
    {
        heightMm = null;
        if (root.Has("edgeMm") == root.Has("shape"))
        {
            root.Fault("edgeMm", root.Has("edgeMm")
                ? "given together with shape; keep one of the two"
                : "missing, and shape too; the edge as points [[x, y], …] from heel to tip, or shape:{lengthMm, heightMm, bellyFromMm, tipDropMm}, would be right");
            return null;
        }

        if (root.PointsMm("edgeMm") is { } points)
        {
            // Points that were refused one by one have said so already.
            if (root.CountOf("edgeMm") != points.Count)
                return null;
            if (EdgeCurve.TryFromPolyline(points, null, out EdgeCurve? edge, out IReadOnlyList<Reason> refusals))
                return edge;
            foreach (Reason reason in refusals)
                root.Fault("edgeMm", reason.Text);
            return null;
        }

        if (root.Object("shape", [.. ShapeKeys]) is not { } shape)
            return null;
        BladeShape given = new(
            shape.RequiredLengthMm("lengthMm", Limits.PositiveTo(EdgeCurve.LongestMm)),
            shape.RequiredLengthMm("heightMm", Limits.PositiveTo(EdgeCurve.LongestMm)),
            shape.RequiredLengthMm("bellyFromMm", Limits.NotNegative),
            shape.RequiredLengthMm("tipDropMm", Limits.NotNegative));
        if (!double.IsFinite(given.LengthMm + given.HeightMm + given.BellyFromMm + given.TipDropMm))
            return null;
        heightMm = given.HeightMm;
        IReadOnlyList<Reason> wrong = given.Refusals();
        foreach (Reason reason in wrong)
            root.Fault("shape", reason.Text);
        return wrong.Count == 0 ? EdgeCurve.FromShape(given) : null;
    }

    private static Bend? ReadBend(FieldReader root, EdgeCurve edge)
    {
        if (!root.Has("bendMm"))
            return null;
        if (!root.IsList("bendMm"))
            return root.LengthMm("bendMm", new Limits(-Bend.LargestBelievedMm, Bend.LargestBelievedMm)) is { } bow ? Bend.FromBow(bow, edge.ChordMm) : null;
        if (root.PointsMm("bendMm") is not { } points || root.CountOf("bendMm") != points.Count)
            return null;
        IReadOnlyList<Reason> wrong = Bend.Refusals(points);
        foreach (Reason reason in wrong)
            root.Fault("bendMm", reason.Text);
        return wrong.Count == 0 ? Bend.FromPoints(points) : null;
    }
}
