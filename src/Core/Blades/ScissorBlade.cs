using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>
/// One of a pair of scissors. The inside is hollow across and must stay so: the blades touch only along the edge and at the ride behind the
/// pivot. Along their length they are bowed toward each other (the set), so that they press at the point of cut. Both are the maker's; grinding takes
/// only the outer bevel, and the burr comes off the inside flat on its ride line (common practice, no source).
/// </summary>
/// <param name="Edge">Angle of the outer bevel from the inside face: the included angle.</param>
public sealed record ScissorBlade(Angle Edge)
{
    /// <summary>Width of the inside face from ride line to edge; null where not measured.</summary>
    public Length? InsideWidth { get; init; }

    /// <summary>Depth of the hollow in the inside face; null where not measured.</summary>
    public Length? HollowDepth { get; init; }

    /// <summary>Gap between the closed blades half-way between pivot and tips, points just touching; null where not measured.</summary>
    public Length? Set { get; init; }

    /// <summary>Width of the bright ride behind the pivot; null where not measured.</summary>
    public Length? Ride { get; init; }

    /// <summary>Radius of the inside hollow, r = d/2 + w²/(8d); null without both lengths or with a flat inside. Source: [sagitta], turned round.</summary>
    public Length? HollowRadius => InsideWidth is { Millimetres: > 0 } width && HollowDepth is { Millimetres: > 0 } depth
        ? Length.FromMillimetres((depth.Millimetres / 2) + (width.Millimetres * width.Millimetres / (8 * depth.Millimetres)))
        : null;

    /// <summary>What to look at before grinding; empty where nothing stands out.</summary>
    public IReadOnlyList<Reason> Cautions()
    {
        List<Reason> cautions = [];
        if (HollowDepth is { Millimetres: <= 0 })
            cautions.Add(new("inside-flat", "The inside is flat; the blades will rub instead of cutting. Restore the hollow before the bevel, or decline."));
        if (Set is { Millimetres: <= 0 })
            cautions.Add(new("no-set", "The blades show no gap when closed; without set they fold the cloth. Set them before grinding, or decline."));
        return cautions;
    }
}
