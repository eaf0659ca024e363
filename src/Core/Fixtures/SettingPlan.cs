using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>What to dial into a rig for one piece, what it will grind and how sure that is. Made by <see cref="SettingPlanner"/>.</summary>
public sealed record SettingPlan
{
    /// <summary>True where the work is refused; <see cref="Refusals"/> say why. Clamps may still be there to look at.</summary>
    public bool Refused => Refusals.Count > 0;

    /// <summary>Why the work is refused.</summary>
    public IReadOnlyList<Reason> Refusals { get; init; } = [];

    /// <summary>What is left out or should be known: omissions, tolerance not kept, two clamps.</summary>
    public IReadOnlyList<Reason> Notes { get; init; } = [];

    /// <summary>Safety and care.</summary>
    public IReadOnlyList<Reason> Cautions { get; init; } = [];

    /// <summary>Defaults that stand in for what was not given.</summary>
    public IReadOnlyList<DefaultUsed> Defaults { get; init; } = [];

    /// <summary>Heel to tip; one unless two are needed.</summary>
    public IReadOnlyList<PlannedClamp> Clamps { get; init; } = [];

    /// <summary>Standard uncertainty of what will be ground, of the least sure setting, degrees; null where the rig says nothing.</summary>
    public double? UDeg { get; init; }

    /// <summary>Its budget by source, degrees.</summary>
    public IReadOnlyList<BudgetShare> Budget { get; init; } = [];

    /// <summary>The measurements that would shrink it, the best first.</summary>
    public IReadOnlyList<NextMeasurement> MeasureNext { get; init; } = [];

    /// <summary>Hand force that still keeps the tolerance against flex, N; null where the blade's thickness or the jaw is not described.</summary>
    public double? HandForceN { get; init; }

    /// <summary>The shim that squares a fixed jaw, mm at the jaw's mouth; null where there is no tilt or the jaw's depth is not known.</summary>
    public double? ShimMm { get; init; }

    /// <summary>Built when asked for.</summary>
    internal Func<IReadOnlyList<Derivation>>? Chain { get; init; }

    /// <summary>The chain behind every number.</summary>
    public IReadOnlyList<Derivation> Explain() => Chain?.Invoke() ?? [];
}

/// <summary>One measurement and what it would bring.</summary>
/// <param name="What">What to measure, and how well.</param>
/// <param name="UAfterDeg">Standard uncertainty afterwards, degrees.</param>
public sealed record NextMeasurement(string What, double UAfterDeg);

/// <summary>One clamping of the blade.</summary>
public sealed record PlannedClamp
{
    /// <summary>Arc length from which it serves, mm.</summary>
    public required double FromMm { get; init; }

    /// <summary>Arc length to which it serves, mm.</summary>
    public required double ToMm { get; init; }

    /// <summary>Foot of the pivot, blade frame; null for rigs without one.</summary>
    public Point2? Pivot { get; init; }

    /// <summary>Where the jaw stands, how far the edge stands out of it, how the blade is turned in its plane; null for rigs without a jaw.</summary>
    public JawPlacement? Jaw { get; init; }

    /// <summary>Largest deviation from the angle wanted over the scored stations and all settings, degrees.</summary>
    public required double WorstDeg { get; init; }

    /// <summary>No clamp in the box is better, proved, degrees; null for a given clamp.</summary>
    public double? BoundDeg { get; init; }

    /// <summary>Angle along the edge under the setting that strays most, with anything learnt about the rig; at 50 stations or more.</summary>
    public required IReadOnlyList<AngleAlongEdge> Angles { get; init; }

    /// <summary>What to dial.</summary>
    public required IReadOnlyList<DialledSetting> Settings { get; init; }

    /// <summary>Whether jaw, spine and handle clear; null where the jaw is not described.</summary>
    public ClearanceVerdict? Clears { get; init; }

    /// <summary>The distance to check after clamping and after each change; null for rigs without a bar or pivot.</summary>
    public TouchOff? TouchOff { get; init; }

    /// <summary>The search's own result; null for a dial or a belt.</summary>
    public Clamp? Search { get; init; }
}

/// <summary>One measured distance that catches a slipped jig before it costs steel.</summary>
/// <param name="AtMm">At this arc length from the heel.</param>
/// <param name="What">From where to where.</param>
/// <param name="DistanceMm">What it must be, mm.</param>
public sealed record TouchOff(double AtMm, string What, double DistanceMm);

/// <summary>An angle at a place of the edge.</summary>
/// <param name="AtMm">Arc length from the heel, mm.</param>
/// <param name="Deg">Degrees; NaN where the rig has no such pose (outside the scored stretch only).</param>
public readonly record struct AngleAlongEdge(double AtMm, double Deg);

/// <summary>One thing to dial; one of the closed kinds below.</summary>
public abstract record DialledSetting
{
    private protected DialledSetting()
    {
    }

    /// <summary>Blade side it grinds.</summary>
    public required Side Side { get; init; }

    /// <summary>Angle wanted, with the wheel's own offset.</summary>
    public required Angle Wanted { get; init; }

    /// <summary>Largest deviation over the scored stretch, degrees.</summary>
    public required double WorstDeg { get; init; }

    /// <summary>Angles at the clamp's stations, in their order, degrees.</summary>
    public required IReadOnlyList<double> AnglesDeg { get; init; }

    /// <summary>Standard uncertainty of what it will grind.</summary>
    public double? UDeg { get; init; }
}

/// <summary>A bar before a wheel.</summary>
public sealed record WheelSetting : DialledSetting
{
    /// <summary>The wheel.</summary>
    public required Wheel Wheel { get; init; }

    /// <summary>Bar off the mid-plane for this side, with the grip's tilt, mm.</summary>
    public required double OffsetMm { get; init; }

    /// <summary>D, mm.</summary>
    public required double BarCentreToAxisMm { get; init; }

    /// <summary>Far side of the bar to the near point of the wheel, mm.</summary>
    public required double BarFarSideToWheelMm { get; init; }

    /// <summary>How far to move the bar along its posts from how it stands now, positive out, mm; null where that is not told or is out of reach.</summary>
    public double? BarTravelMm { get; init; }

    /// <summary>The same in turns of the thread; null where its pitch is not known.</summary>
    public double? Turns { get; init; }
}

/// <summary>A pivot over the blade.</summary>
public sealed record RodSetting : DialledSetting
{
    /// <summary>h over the mid-plane, mm.</summary>
    public required double PivotHeightMm { get; init; }

    /// <summary>How far to move it from how it stands now, positive up, mm; null where that is not told.</summary>
    public double? ChangeMm { get; init; }
}

/// <summary>A lift on a stone.</summary>
public sealed record LiftSetting : DialledSetting
{
    /// <summary>H, mm.</summary>
    public required double LiftMm { get; init; }

    /// <summary>Where along the edge, x from the heel, mm.</summary>
    public required double AtMm { get; init; }

    /// <summary>The nearest pile of the coins at hand; null where none are told.</summary>
    public CoinStack? Coins { get; init; }
}

/// <summary>A mark to dial, or the angle at which a belt is met.</summary>
public sealed record MarkSetting : DialledSetting
{
    /// <summary>The mark.</summary>
    public required Angle Marked { get; init; }
}
