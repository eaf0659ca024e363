using Whetwright.Core.PenTest;
using Whetwright.Core.Quantities;
using Whetwright.Core.Visits;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>What is the same for both sides of a blade is printed once, for both: on a stone or a rod the sides seldom differ.</summary>
internal static class AlikeSides
{
    /// <summary>Lengths closer than this print alike, mm (and degrees): half the last digit shown.</summary>
    private const double Shown = 0.005;

    /// <summary>Settings, a left and a right one that dial alike made one for both sides.</summary>
    internal static IReadOnlyList<BenchSetting> OnceOnly(IReadOnlyList<BenchSetting> settings)
    {
        List<BenchSetting> kept = [];
        foreach (BenchSetting setting in settings)
        {
            int twin = kept.FindIndex(k => k.BladeSide is { } side && setting.BladeSide is { } other && side != other && Alike(k, setting));
            if (twin >= 0)
                kept[twin] = kept[twin] with { BladeSide = null };
            else
                kept.Add(setting);
        }

        return kept;
    }

    /// <summary>Pen tests, alike ones of both sides once; the abrasive is named only where there are several.</summary>
    internal static IReadOnlyList<PenTestView> PenTests(IReadOnlyList<VisitPenTest> tests, bool named)
    {
        List<PenTestView> views = [];
        foreach (IGrouping<(string, string, string, FirstTouch), VisitPenTest> group in tests.GroupBy(t =>
            (t.On, Key(t.Forecast.Input.WidthMm), Key(t.Forecast.Band.FromMm) + "/" + Key(t.Forecast.Band.ToMm), t.Forecast.FirstTouch)))
        {
            VisitPenTest first = group.First();
            string side = group.Count() > 1 ? "both sides" : first.Side == Side.Left ? "left" : "right";
            views.Add(CoreViews.PenTest(first) with { For = named ? $"{first.On}, {side}" : side });
        }

        return views;
    }

    private static bool Alike(BenchSetting a, BenchSetting b) =>
        string.Equals(a.Name, b.Name, StringComparison.Ordinal) && string.Equals(a.DialName, b.DialName, StringComparison.Ordinal)
        && Near(a.DialMm, b.DialMm) && Near(a.DialDeg, b.DialDeg) && Near(a.AngleDeg, b.AngleDeg) && Near(a.TravelMm, b.TravelMm)
        && Near(a.TouchOffMm, b.TouchOffMm) && a.Also.SequenceEqual(b.Also);

    private static bool Near(double? a, double? b) => a is { } x && b is { } y ? Math.Abs(x - y) < Shown : a is null && b is null;

    private static string Key(double mm) => Math.Round(mm, 3).ToString(System.Globalization.CultureInfo.InvariantCulture);
}
