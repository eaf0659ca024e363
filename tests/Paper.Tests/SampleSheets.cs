using Whetwright.Core.Quantities;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Tests;

/// <summary>Invented bench sheets: no such knife, rig or shop. The geometry is worked out here so that the drawings are true to scale.</summary>
internal static class SampleSheets
{
    internal const double EdgeLengthMm = 208;

    /// <summary>One clamp, three wheels, both sides alike.</summary>
    internal static BenchSheet Kitchen(SheetStyle? style = null, int wheels = 3, bool sidesDiffer = false, int clamps = 1, int stages = 4)
    {
        (string Name, double Diameter)[] wheel = [("Coarse wheel", 248.6), ("Fine wheel", 251.2), ("Leather wheel", 219.5)];
        return new()
        {
            Reference = "K-417",
            Title = "Kitchen knife, 208 mm edge",
            Owner = "Invented Bistro",
            Wish = "keep the found angle, 13.0° a side",
            Date = "2026-11-25",
            RigName = "wheel and bar, invented",
            InventedNote = "Invented sample: no such knife, owner or rig.",
            Style = style ?? new(),
            Clamps = [.. Enumerable.Range(0, clamps).Select(c => Clamp(c, clamps, wheel[..wheels], sidesDiffer))],
            Reading = new()
            {
                IncludedDeg = 25.72,
                IncludedUDeg = 0.14,
                LeftDeg = 12.71,
                LeftUDeg = 0.31,
                RightDeg = 13.01,
                RightUDeg = 0.31,
                CannotKnow = ["how the difference of the sides splits between edge and clamping: the same ±0.3° in both", "a blunt land under 0.02 mm"],
                MeasureNext = "target distance with the spacer: included then ± 0.2°",
                Marks = new()
                {
                    DistanceMm = 100,
                    Marks = [Mark(Side.Left, "primary", 2.1), Mark(Side.Left, "edge", 12.7), Mark(Side.Right, "primary", 2.3), Mark(Side.Right, "edge", 13.0)],
                },
            },
            Section = Section(15, 13, 0.35, 2, 0.05),
            SectionFacts = [new("taken off the height", "0.09 mm"), new("steel off", "4.1 mm³, 32 mg"), new("facet left / right", "0.68 / 0.68 mm")],
            PenTests = [new() { FacetWidthMm = 0.66, BareFromMm = 0.41, BareToMm = 0.66, FirstTouch = "at the shoulder", Meaning = "Bare at the apex instead: the bar stands too high." }],
            Stages = [.. AllStages().Take(stages)],
            Cautions =
            [
                "Eye protection; no gloves or loose sleeves near the wheel.",
                "Fine wheel: 7.4 m/s at the rim. Keep within the speed marked on the wheel.",
                "Strop and leather wheel edge-trailing only.",
                "Never look into the laser or its reflection from a polished bevel.",
                "Grinding dust: wet or with extraction and mask. Blade to the rack, not the bench edge.",
            ],
            Omissions = [new("life", "Life between sharpenings is left out: no steel data was given. Name the steel in blade.json.")],
            DefaultsUsed = ["bar diameter 12 mm", "diameter uncertainty ±0.25 mm"],
        };
    }

    /// <summary>Old wedge at one angle, new at another, apex moved up by the recession; both sides alike.</summary>
    internal static SectionView Section(double oldDeg, double newDeg, double behindEdgeMm, double primaryDeg, double recessionMm)
    {
        double t0 = Math.Tan(double.DegreesToRadians(oldDeg));
        double t1 = Math.Tan(double.DegreesToRadians(newDeg));
        double tb = Math.Tan(double.DegreesToRadians(primaryDeg));
        double a = behindEdgeMm / 2;
        double b0 = a / t0;
        double shoulder = (a - (b0 * tb) + (recessionMm * t1)) / (t1 - tb);
        double newA = a + ((shoulder - b0) * tb);
        double top = shoulder * 1.5;
        double topA = a + ((top - b0) * tb);
        return new()
        {
            BeforeMm = [new(-topA, top), new(-a, b0), new(0, 0), new(a, b0), new(topA, top)],
            AfterMm = [new(-topA, top), new(-newA, shoulder), new(0, recessionMm), new(newA, shoulder), new(topA, top)],
            RemovedMm =
            [
                [new(0, 0), new(-a, b0), new(-newA, shoulder), new(0, recessionMm)],
                [new(0, 0), new(a, b0), new(newA, shoulder), new(0, recessionMm)],
            ],
            OldLeftDeg = oldDeg,
            OldRightDeg = oldDeg,
            NewLeftDeg = newDeg,
            NewRightDeg = newDeg,
        };
    }

    /// <summary>A gently bellied edge.</summary>
    internal static IReadOnlyList<Point2> Edge() =>
        [.. Enumerable.Range(0, 61).Select(i => i / 60.0 * EdgeLengthMm).Select(x => new Point2(x, x < 110 ? 0 : -24 * Math.Pow((x - 110) / 98, 2)))];

    internal static WheelAndBarView Rig(string name, double diameterMm, double angleDeg, Side? side = null)
    {
        double r = diameterMm / 2;
        double a = double.DegreesToRadians(angleDeg);
        const double p = 108;
        const double q = -13;
        double d = Math.Sqrt((r * r) + (p * p) + (q * q) + (2 * r * ((p * Math.Sin(a)) + (q * Math.Cos(a)))));
        return new()
        {
            WheelName = name, WheelDiameterMm = diameterMm, BarCentreToAxisMm = d, BarDiameterMm = 12, OffsetMm = q, HolderHalfThicknessMm = 7,
            SupportDistanceMm = p, AngleDeg = angleDeg, BladeHeightMm = 46, SpineMm = 2.4, ProtrusionMm = 42, BladeSide = side,
        };
    }

    private static BenchClamp Clamp(int index, int count, (string Name, double Diameter)[] wheels, bool sidesDiffer)
    {
        double from = EdgeLengthMm * index / count;
        double to = EdgeLengthMm * (index + 1) / count;
        double jaw = (from + to) / 2 * 0.9;
        return new()
        {
            FromMm = from,
            ToMm = to,
            JawFromHeelMm = jaw,
            ProtrusionMm = 42,
            PlaneTiltDeg = 1.4,
            ShimMm = 0.35,
            WorstDeg = 0.37,
            BoundDeg = 0.365,
            Clears = index == 0,
            ClearsText = index == 0 ? null : "the handle meets the wheel's guard under 12.2°: use the extension holder.",
            UDeg = 0.29,
            MeasureNext = "diameter of the fine wheel to ±0.1 mm: then ±0.4°.",
            EdgeAngles = new()
            {
                EdgeMm = Edge(),
                BladeHeightMm = 46,
                WantedDeg = 13,
                ToleranceDeg = 0.5,
                Angles = [.. Enumerable.Range(0, 61).Select(i => i / 60.0 * EdgeLengthMm).Where(x => x >= from - 1 && x <= to + 1).Select(x => new StationAngle(x, 13 + (0.37 * Math.Cos(x / EdgeLengthMm * 7))))],
                PivotMm = new(jaw, -108),
                JawFromHeelMm = jaw,
                ProtrusionMm = 42,
                JawWidthMm = 38,
                ScoreFromMm = from,
                ScoreToMm = Math.Min(to, EdgeLengthMm - 2),
            },
            Settings = [.. wheels.SelectMany((w, i) => Settings(w.Name, w.Diameter, i, sidesDiffer))],
        };
    }

    private static IEnumerable<BenchSetting> Settings(string name, double diameterMm, int index, bool sidesDiffer)
    {
        Side?[] sides = sidesDiffer ? [Side.Left, Side.Right] : [null];
        foreach (Side? side in sides)
        {
            double deg = (index == 2 ? 14.5 : 13) + (side == Side.Right ? 0.6 : 0);
            WheelAndBarView rig = Rig(name, diameterMm, deg, side);
            yield return new()
            {
                Name = name,
                BladeSide = side,
                DialName = "far side of bar to wheel",
                DialMm = rig.BarFarSideToWheelMm,
                DialU = 0.21,
                AngleDeg = deg,
                TravelMm = index == 0 ? 1.25 : -0.8,
                TravelTurns = index == 0 ? 0.83 : 0.53,
                Also = [new("bar centre to axis", rig.BarCentreToAxisMm.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture) + " mm")],
                DiameterMm = diameterMm,
                DiameterUMm = 0.25,
                DiameterEntry = "entry 14, 2026-11-20",
                DiameterIsDefault = index == 2,
                IsStale = index == 1 && sidesDiffer,
                TouchOffMm = 114.2,
                TouchOffText = "far side of bar to the edge, 60 mm from the heel",
                Rig = rig,
            };
        }
    }

    private static MarkView Mark(Side side, string role, double deg) => new(side, role, 100 * Math.Tan(double.DegreesToRadians(2 * deg)), deg);

    private static BenchStage[] AllStages() =>
    [
        new("Coarse wheel", "JIS 220", "left 14, right 14", "water; look for the burr after 10"),
        new("Fine wheel", "JIS 1000", "left 8, right 8", "water; alternate the last two, light"),
        new("Leather wheel", "3 µm paste", "left 6, right 6", "edge-trailing"),
        new("Hone by hand", null, "until no burr", "still there: a degree more, lighter"),
        new("Cut test", null, null, "thin paper, heel to tip"),
        new("Clean and oil", null, null, "food-contact cleaner"),
    ];
}
