using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>A value that nobody measured, used because none was given.</summary>
/// <param name="Field">The field in the file: <c>barDiameterMm</c>.</param>
/// <param name="Value">As shown, with its unit.</param>
/// <param name="Why">What it stands for and what it moves.</param>
public sealed record DefaultUsed(string Field, string Value, string Why);

/// <summary>A machine or stone with its geometry. What was not given is null; the effective values and what they stand for are in <see cref="Defaults"/>.</summary>
public abstract record Rig
{
    private protected Rig()
    {
    }

    /// <summary>What the person calls it.</summary>
    public string Name { get; init; } = "";

    /// <summary>Kind in files: <c>wheel-and-bar</c> ….</summary>
    public abstract string Kind { get; }

    /// <summary>Where the pivot may stand; null where the kind has none or the blade's height gives it.</summary>
    public PivotBox? Box { get; init; }

    /// <summary>What the checks have taught about this rig: got less set; null where nothing.</summary>
    public MeasuredAngle? LearntCorrection { get; init; }

    /// <summary>Standard uncertainty of the support distance, mm; null for <see cref="UsualSupportUMm"/>.</summary>
    public double? SupportUMm { get; init; }

    /// <summary>1 mm: a ruler held against a clamped blade (design figure, common practice, no source).</summary>
    public const double UsualSupportUMm = 1;

    /// <summary>Defaults that stand in for what was not given.</summary>
    public virtual IReadOnlyList<DefaultUsed> Defaults =>
        SupportUMm is null ? [new("supportUMm", "1 mm", "uncertainty of the distance from pivot to edge, as a ruler gives it")] : [];

    /// <summary>What is wrong with the rig's own numbers, naming each field; empty where nothing is.</summary>
    public virtual IReadOnlyList<Reason> Refusals() => Box?.Refusals() ?? [];

    /// <summary>Appends a reason where a number is not finite or outside its range.</summary>
    private protected static void Check(List<Reason> reasons, string field, double? value, double least, double most, string unit = "mm")
    {
        if (value is { } number && !(number >= least && number <= most))
            reasons.Add(new("rig-field", FormattableString.Invariant($"{field} is {number}; it should be from {least} to {most} {unit}.")));
    }
}

/// <summary>A stone on a guided rod.</summary>
public sealed record GuidedRodRig : Rig
{
    /// <inheritdoc />
    public override string Kind => "guided-rod";

    /// <summary>t: the working face below the rod's line, mm; null for zero.</summary>
    public double? FaceOffsetMm { get; init; }

    /// <summary>Lowest and highest pivot, over the blade's mid-plane, mm.</summary>
    public required (double Least, double Most) PivotHeightMm { get; init; }

    /// <summary>Jaw's front to the pivot's foot, mm; null where not described.</summary>
    public double? JawToPivotMm { get; init; }

    /// <summary>Half the jaw's thickness, mm; null where not described.</summary>
    public double? JawHalfThicknessMm { get; init; }

    /// <summary>The pivot's height as it stands, mm; null where not told.</summary>
    public double? NowPivotHeightMm { get; init; }

    /// <inheritdoc />
    public override IReadOnlyList<DefaultUsed> Defaults => FaceOffsetMm is null
        ? [.. base.Defaults, new("faceOffsetMm", "0 mm", "the stone's face is taken to lie on the rod's line; a stone 25 mm off it moves the angle by many degrees")]
        : base.Defaults;

    /// <inheritdoc />
    public override IReadOnlyList<Reason> Refusals()
    {
        List<Reason> reasons = [.. base.Refusals()];
        if (Box is null)
            reasons.Add(new("rig-field", "pivotXMm and pivotDistanceMm are not given; a guided rod needs to know where its pivot may stand."));
        Check(reasons, "faceOffsetMm", FaceOffsetMm, -200, 200);
        if (!(PivotHeightMm.Least < PivotHeightMm.Most) || !double.IsFinite(PivotHeightMm.Least) || !double.IsFinite(PivotHeightMm.Most))
            reasons.Add(new("rig-field", FormattableString.Invariant($"pivotHeightMm is [{PivotHeightMm.Least}, {PivotHeightMm.Most}]; it should be two finite numbers, the smaller first.")));
        Check(reasons, "jawToPivotMm", JawToPivotMm, 0, 2000);
        Check(reasons, "jawHalfThicknessMm", JawHalfThicknessMm, 0, 200);
        Check(reasons, "now.pivotHeightMm", NowPivotHeightMm, 0, 5000);
        return reasons;
    }
}

/// <summary>What a lift on the bench stone goes to.</summary>
public enum StoneSupport
{
    /// <summary>To the blade's mid-plane.</summary>
    MidPlane = 0,

    /// <summary>Under the lower corner of the spine.</summary>
    SpineCorner = 1,
}

/// <summary>A flat stone on the bench.</summary>
public sealed record BenchStoneRig : Rig
{
    /// <inheritdoc />
    public override string Kind => "bench-stone";

    /// <summary>What the lift goes to; null for the spine's corner.</summary>
    public StoneSupport? Support { get; init; }

    /// <summary>Thicknesses of the coins or shims at hand, mm.</summary>
    public IReadOnlyList<double> CoinsMm { get; init; } = [];

    /// <inheritdoc />
    public override IReadOnlyList<DefaultUsed> Defaults => Support is null
        ? [.. base.Defaults, new("support", "spine-corner", "a stack laid under the spine")]
        : base.Defaults;

    /// <inheritdoc />
    public override IReadOnlyList<Reason> Refusals()
    {
        List<Reason> reasons = [.. base.Refusals()];
        if (CoinsMm.Count > 8)
            reasons.Add(new("rig-field", FormattableString.Invariant($"coinsMm has {CoinsMm.Count} thicknesses; at most 8.")));
        for (int i = 0; i < CoinsMm.Count; i++)
            Check(reasons, FormattableString.Invariant($"coinsMm[{i}]"), CoinsMm[i], 0.005, 100);
        return reasons;
    }
}

/// <summary>A guide with degree marks, or a fixed angle.</summary>
public sealed record DialRig : Rig
{
    /// <inheritdoc />
    public override string Kind => "dial";

    /// <summary>Standard uncertainty of setting the mark; null for 0.5°.</summary>
    public Angle? MarkU { get; init; }

    /// <inheritdoc />
    public override IReadOnlyList<DefaultUsed> Defaults =>
    [
        .. MarkU is null ? [new DefaultUsed("markUDeg", "0.5°", "how well a mark is set and holds (chosen, not derived)")] : Array.Empty<DefaultUsed>(),
        .. LearntCorrection is null ? [new DefaultUsed("learntDeg", "0°", "nothing learnt about this guide yet; read the edge after grinding and enter it")] : Array.Empty<DefaultUsed>(),
    ];
}

/// <summary>A slack belt: convex, only the entry angle is ours to state.</summary>
public sealed record SlackBeltRig : Rig
{
    /// <inheritdoc />
    public override string Kind => "slack-belt";

    /// <inheritdoc />
    public override IReadOnlyList<DefaultUsed> Defaults => [];
}
