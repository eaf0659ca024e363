using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Records.Bench;
using Whetwright.Records.Pieces;

namespace Whetwright.Workbench.Demo;

/// <summary>A piece as it truly is: what the shop only knows through its readings.</summary>
internal sealed class DemoPiece
{
    public required DemoPattern Pattern { get; init; }

    public required double LengthMm { get; init; }

    /// <summary>True angles of the blade's sides; 0 on a back.</summary>
    public required SidePair Edge { get; set; }

    public required double HeightMm { get; set; }

    public required double BehindMm { get; set; }

    public required double PrimaryDeg { get; init; }

    public required double SpineMm { get; init; }

    /// <summary>Width of the dull strip it has grown.</summary>
    public double LandMm { get; set; }

    public double ChipMm { get; set; }

    /// <summary>As the book knows it.</summary>
    public Piece? Kept { get; set; }

    public bool SteelNoted { get; set; }

    public List<SectionMeasured> Sections { get; } = [];

    public AimChosen? LastAim { get; set; }

    /// <summary>The clamp found the first time: kept, as a worker keeps it.</summary>
    public Dictionary<long, Point2> Clamps { get; } = [];

    public long? LastVisit { get; set; }

    public bool HasBack => Pattern.Kind.Reference() == AngleReference.Back;

    /// <summary>Ground by a rig; scalloped and scissors' edges are done by hand in this shop.</summary>
    public bool OnRig => Pattern.Kind is PieceKind.DoubleBevel or PieceKind.SingleBevel or PieceKind.Chisel or PieceKind.PlaneIron;

    public static DemoPiece Make(DemoPattern p, DemoChance chance)
    {
        double length = Math.Round(chance.Between(p.LengthMm.From, p.LengthMm.To) / 5) * 5;
        double angle = chance.Between(p.AngleDeg.From, p.AngleDeg.To);
        bool back = p.Kind.Reference() == AngleReference.Back;
        double behind = chance.Between(p.BehindMm.From, p.BehindMm.To);
        return new()
        {
            Pattern = p,
            LengthMm = length,
            Edge = back ? new(0, angle) : new(angle + chance.Normal(0.8), angle + chance.Normal(0.8)),
            HeightMm = Math.Max(14, length * p.HeightShare * chance.Between(0.9, 1.1)),
            BehindMm = behind,
            PrimaryDeg = chance.Between(p.PrimaryDeg.From, p.PrimaryDeg.To),
            SpineMm = behind + chance.Between(1.2, 2.2),
            LandMm = chance.Between(0.02, 0.06),
        };
    }
}
