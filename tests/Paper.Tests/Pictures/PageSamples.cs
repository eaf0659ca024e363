using Whetwright.Core.Quantities;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Tests.Pictures;

/// <summary>Invented histories, outlines and loads, for the pages' pictures.</summary>
internal static class PageSamples
{
    internal static IReadOnlyList<HistoryVisit> History { get; } =
    [
        new(new(2024, 10, 3), 17.9, 0.4, 16.2, 0.4, 46.9, 0.1),
        new(new(2025, 3, 17), 15.4, 0.3, 15.1, 0.3, 46.2, 0.1),
        new(new(2025, 9, 1), 15.2, 0.3, 14.8, 0.3, 45.9, 0.1),
        new(new(2026, 2, 20), 14.9, 0.2, 15.2, 0.2),
        new(new(2026, 11, 27), 13.1, 0.2, 13.0, 0.2, 45.3, 0.05),
    ];

    internal static OutlineView Outlines { get; } = Make();

    internal static IReadOnlyList<LoadDay> Load { get; } =
    [
        new(new(2026, 11, 25), 180, 240), new(new(2026, 11, 26), 240, 240), new(new(2026, 11, 27), 305, 240), new(new(2026, 11, 28), 0, 0), new(new(2026, 11, 30), 45, 240),
    ];

    internal static GuidedRodView Rod { get; } = new() { SupportDistanceMm = 120, AngleDeg = 18, PivotHeightMm = (120 * Math.Tan(0.31415926)) + (12 / Math.Cos(0.31415926)), FaceOffsetMm = 12, ProtrusionMm = 45 };

    internal static BenchStoneView Stone { get; } = new()
    {
        SupportDistanceMm = 46, AngleDeg = 15, BladeHeightMm = 46, SpineMm = 2.6, SpineCorner = true, LiftMm = (46 * Math.Sin(Math.PI / 12)) - (1.3 * Math.Cos(Math.PI / 12)),
    };

    private static OutlineView Make()
    {
        IReadOnlyList<Point2> edge = SampleSheets.Edge();
        double Lost(double x) => 0.4 + (1.1 * Math.Exp(-Math.Pow((x - 190) / 14, 2)));
        Point2[] spine = [new(206, -26), new(150, -44), new(0, -46)];
        return new()
        {
            EarlierMm = [.. edge, .. spine],
            LaterMm = [.. edge.Select(p => new Point2(p.X, p.Y - Lost(p.X))), .. spine],
            LostMm = [.. edge.Select(p => new Point2(p.X, Lost(p.X)))],
            LostUMm = 0.08,
            Earlier = "2025-03-17",
            Later = "2026-11-27",
        };
    }
}
