namespace Whetwright.Core.Blades;

/// <summary>The kinds of piece that come over the counter. Each has its own geometry and its own reference for angles.</summary>
public enum PieceKind
{
    /// <summary>Ground from both sides; angles per side, from the mid-plane.</summary>
    DoubleBevel = 0,

    /// <summary>Ground from one side; the back, flat or hollow, is the reference and is never ground flat.</summary>
    SingleBevel = 1,

    /// <summary>Bevels that curve from shoulder to apex; the angle is a range.</summary>
    Convex = 2,

    /// <summary>Scallops on one side; their radius and pitch say which rod fits.</summary>
    Serrated = 3,

    /// <summary>Two blades that ride on each other; the inside stays hollow.</summary>
    Scissors = 4,

    /// <summary>A straight end, square or skew; the back is the reference.</summary>
    Chisel = 5,

    /// <summary>A straight or slightly crowned end, square or skew; the back is the reference.</summary>
    PlaneIron = 6,
}

/// <summary>What the angles of a piece are measured from.</summary>
public enum AngleReference
{
    /// <summary>The plane half-way between the flanks.</summary>
    MidPlane = 0,

    /// <summary>The back: the unbevelled face. The angle from the back is the included angle.</summary>
    Back = 1,
}

/// <summary>What follows from the kind of a piece alone.</summary>
public static class PieceKinds
{
    /// <summary>What angles of this kind are measured from.</summary>
    public static AngleReference Reference(this PieceKind kind) => kind switch
    {
        PieceKind.SingleBevel or PieceKind.Scissors or PieceKind.Chisel or PieceKind.PlaneIron => AngleReference.Back,
        _ => AngleReference.MidPlane,
    };

    /// <summary>How many sides are ground to the set angle: two for pieces with a mid-plane, one for those with a back or with scallops.</summary>
    public static int GroundSides(this PieceKind kind) => kind is PieceKind.DoubleBevel or PieceKind.Convex ? 2 : 1;

    /// <summary>True where the other face must stay as it is (a hollow back, the inside of scissors): only the burr comes off it, laid flat.</summary>
    public static bool BackStaysAsItIs(this PieceKind kind) => kind.Reference() == AngleReference.Back;

    /// <summary>The name in files: <c>double-bevel</c>, <c>plane-iron</c> ….</summary>
    public static string Key(this PieceKind kind) => kind switch
    {
        PieceKind.DoubleBevel => "double-bevel",
        PieceKind.SingleBevel => "single-bevel",
        PieceKind.Convex => "convex",
        PieceKind.Serrated => "serrated",
        PieceKind.Scissors => "scissors",
        PieceKind.Chisel => "chisel",
        PieceKind.PlaneIron => "plane-iron",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of piece."),
    };

    /// <summary>All kinds, in the order of the enumeration.</summary>
    public static IReadOnlyList<PieceKind> All { get; } = Enum.GetValues<PieceKind>();

    /// <summary>The kind with this name in files; null where there is none.</summary>
    public static PieceKind? FromKey(string key)
    {
        foreach (PieceKind kind in All)
        {
            if (string.Equals(kind.Key(), key, StringComparison.Ordinal))
                return kind;
        }

        return null;
    }
}
