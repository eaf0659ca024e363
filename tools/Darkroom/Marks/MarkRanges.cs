using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>How hard a photograph may be to read.</summary>
public enum Difficulty
{
    Easy,
    Normal,
    Hard,
}

/// <summary>
/// The ranges that scenes are drawn from; the README prints them. All are chosen, not derived: at least as wide as phones, printers and edges
/// that one meets, and wider than any single set of photographs.
/// </summary>
public sealed record MarkRanges
{
    public required Span BevelDeg { get; init; }

    /// <summary>Standard deviation of the difference between the sides.</summary>
    public required double SideScatterDeg { get; init; }

    public required Span BevelWidthMm { get; init; }

    public required double ConvexShare { get; init; }

    public required double HollowShare { get; init; }

    public required Span CurvatureDeg { get; init; }

    public required double MicroShare { get; init; }

    public required Span MicroExtraDeg { get; init; }

    public required Span PrimaryDeg { get; init; }

    public required Span SlopeAcross { get; init; }

    public required Span SlopeAlong { get; init; }

    public required double SkewMostDeg { get; init; }

    public required Span ApexRadiusUm { get; init; }

    public required double LandShare { get; init; }

    public required double RollSdDeg { get; init; }

    public required double PitchMostDeg { get; init; }

    public required double TwistMostDeg { get; init; }

    /// <summary>Of the edge from the beam's axis, in widths of the beam.</summary>
    public required double OffsetSdShare { get; init; }

    public required Span DistanceMm { get; init; }

    /// <summary>Relative standard deviation of the true distance about the nominal one; never more than two of them off.</summary>
    public required double DistanceSd { get; init; }

    public required double SheetTurnMostDeg { get; init; }

    public required double ZeroMostMm { get; init; }

    public required double LineShare { get; init; }

    public required double DistractorShare { get; init; }

    public required double BladeSeenShare { get; init; }

    public required double NickShare { get; init; }

    public required Span AmbientLux { get; init; }

    public required Span Exposure { get; init; }

    public required double TiltMostDeg { get; init; }

    public required Span Defocus { get; init; }

    public required Span Motion { get; init; }

    public required double GradientMost { get; init; }

    public required double LensMost { get; init; }

    /// <summary>The ranges of a difficulty.</summary>
    public static MarkRanges Of(Difficulty difficulty) => difficulty switch
    {
        Difficulty.Easy => Easy,
        Difficulty.Normal => Normal,
        _ => Hard,
    };

    private static MarkRanges Easy { get; } = new()
    {
        BevelDeg = new(11, 24.5), SideScatterDeg = 0.15, BevelWidthMm = new(0.35, 1.4), ConvexShare = 0, HollowShare = 0, CurvatureDeg = new(0, 0),
        MicroShare = 0, MicroExtraDeg = new(0, 0), PrimaryDeg = new(1.5, 4.5), SlopeAcross = new(0.02, 0.07), SlopeAlong = new(0.001, 0.004),
        SkewMostDeg = 2.5, ApexRadiusUm = new(0.15, 1.2), LandShare = 0, RollSdDeg = 0.2, PitchMostDeg = 1.2, TwistMostDeg = 0.8, OffsetSdShare = 0.02,
        DistanceMm = new(58, 132), DistanceSd = 0.003, SheetTurnMostDeg = 0.6, ZeroMostMm = 0.5, LineShare = 0, DistractorShare = 0,
        BladeSeenShare = 0.3, NickShare = 0, AmbientLux = new(60, 250), Exposure = new(-1.3, 0.2), TiltMostDeg = 12, Defocus = new(0.3, 0.9), Motion = new(0, 1.2),
        GradientMost = 0.25, LensMost = 0.012,
    };

    private static MarkRanges Normal { get; } = new()
    {
        BevelDeg = new(8.5, 25), SideScatterDeg = 1, BevelWidthMm = new(0.15, 1.2), ConvexShare = 0.45, HollowShare = 0.15, CurvatureDeg = new(0.1, 2.2),
        MicroShare = 0.25, MicroExtraDeg = new(2.5, 6), PrimaryDeg = new(0.8, 5), SlopeAcross = new(0.03, 0.15), SlopeAlong = new(0.0015, 0.009),
        SkewMostDeg = 9, ApexRadiusUm = new(0.15, 3), LandShare = 0.1, RollSdDeg = 0.8, PitchMostDeg = 4.5, TwistMostDeg = 1.6, OffsetSdShare = 0.09,
        DistanceMm = new(58, 140), DistanceSd = 0.01, SheetTurnMostDeg = 1.8, ZeroMostMm = 1.5, LineShare = 0.3, DistractorShare = 0.35,
        BladeSeenShare = 0.75, NickShare = 0.15, AmbientLux = new(5, 250), Exposure = new(-1.4, 0.6), TiltMostDeg = 20, Defocus = new(0.4, 2.9), Motion = new(0, 4.5),
        GradientMost = 0.4, LensMost = 0.032,
    };

    private static MarkRanges Hard { get; } = new()
    {
        BevelDeg = new(7.5, 26), SideScatterDeg = 1.6, BevelWidthMm = new(0.1, 1), ConvexShare = 0.5, HollowShare = 0.15, CurvatureDeg = new(0.3, 4),
        MicroShare = 0.4, MicroExtraDeg = new(2.5, 7.5), PrimaryDeg = new(0.5, 6), SlopeAcross = new(0.035, 0.17), SlopeAlong = new(0.0025, 0.012),
        SkewMostDeg = 14, ApexRadiusUm = new(0.3, 12), LandShare = 0.3, RollSdDeg = 1.4, PitchMostDeg = 7, TwistMostDeg = 3, OffsetSdShare = 0.2,
        DistanceMm = new(56, 145), DistanceSd = 0.01, SheetTurnMostDeg = 2.2, ZeroMostMm = 3, LineShare = 0.35, DistractorShare = 0.6,
        BladeSeenShare = 0.8, NickShare = 0.3, AmbientLux = new(0.7, 200), Exposure = new(-1.5, 0.9), TiltMostDeg = 27, Defocus = new(0.5, 3.4), Motion = new(0, 10),
        GradientMost = 0.45, LensMost = 0.038,
    };
}
