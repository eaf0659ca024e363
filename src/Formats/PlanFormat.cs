using Whetwright.Core.Abrasives;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>What plan.json asks.</summary>
/// <param name="Owned">The shop's abrasives.</param>
/// <param name="Task">What the chain must do.</param>
public sealed record PlanQuestion(IReadOnlyList<OwnedAbrasive> Owned, AbrasiveTask Task);

/// <summary>plan.json: the abrasives of a shop and the steel to take off. Described in docs/formats/plan.schema.json.</summary>
public static class PlanFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["abrasives", "areaMm2", "facetMm", "fromD50Um", "finishD50Um", "maxRatio", "passMinutes"];

    /// <summary>Keys of an abrasive.</summary>
    public static IReadOnlyList<string> AbrasiveKeys { get; } =
        ["name", "system", "grade", "areaPerPassMm2", "changeMinutes", "medium", "learnt", "wheelDiameterMm", "rpm", "markedLimitMs"];

    /// <summary>Keys of a pair of sides.</summary>
    public static IReadOnlyList<string> PairKeys { get; } = ["left", "right"];

    /// <summary>Keys of a visit that a rate is learnt from.</summary>
    public static IReadOnlyList<string> LearntKeys { get; } = ["areaMm2", "passes"];

    private static readonly string[] Media = ["wet-wheel", "dry-wheel", "dry-belt", "wet-belt", "bench-stone", "strop", "buff"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<PlanQuestion> Read(string json) => FieldReader.Document(json, Keys, From);

    private static PlanQuestion? From(FieldReader root)
    {
        List<OwnedAbrasive> owned = [.. root.Objects("abrasives", [.. AbrasiveKeys]).Select(Abrasive).OfType<OwnedAbrasive>()];
        if (root.CountOf("abrasives") <= 0)
            root.Fault("abrasives", "missing; a list with at least one abrasive that the shop owns would be right");
        foreach (string twice in owned.GroupBy(o => o.Name, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => g.Key))
            root.Fault("abrasives", $"'{twice}' stands here twice; each abrasive needs a name of its own");
        (double Left, double Right)? area = Pair(root, "areaMm2", Limits.NotNegative), facet = Pair(root, "facetMm", Limits.PositiveTo(100));
        if (area is null && !root.Has("areaMm2"))
            root.Fault("areaMm2", "missing; {\"left\": 0.05, \"right\": 0.05} would be right, square millimetres of section to take off each side");
        else if (area is { Left: 0, Right: 0 })
            root.Fault("areaMm2", "one of the two sides above 0 would be right");
        double? finish = Required(root, "finishD50Um", Limits.PositiveTo(6000), "µm"), ratio = Required(root, "maxRatio", new Limits(1, 1000, Open: true), "");
        AbrasiveTask task = new(area?.Left ?? 0, area?.Right ?? 0, finish ?? 1, ratio ?? 2)
        {
            FromD50Um = root.Number("fromD50Um", Limits.PositiveTo(6000), "µm"),
            LeftFacetMm = facet?.Left,
            RightFacetMm = facet?.Right,
            PassMinutes = root.Number("passMinutes", Limits.PositiveTo(60), "min"),
        };
        return root.HasFaults ? null : new(owned, task);
    }

    private static OwnedAbrasive? Abrasive(FieldReader a)
    {
        if (a.Text("name") is not { Length: > 0 } name)
        {
            a.Fault("name", "missing; a name such as \"coarse wheel\" would be right");
            return null;
        }

        string? key = a.RequiredWord("system", [.. Grades.Keys]);
        Grade? grade = null;
        if (key is not null && Grades.SystemFromKey(key) is { } system)
        {
            if (system == GradeSystem.Micrometres)
                grade = a.Number("grade", Limits.PositiveTo(6000), "µm") is { } um ? new(system, FormattableString.Invariant($"{um} µm"), um, null, GradeOrigin.Typed) : null;
            else if (a.Text("grade") is { } marked)
                grade = Grades.Find(system, marked);
            if (grade is null && system != GradeSystem.Micrometres)
                a.Fault("grade", $"no grade of {key}; one of {string.Join(", ", Grades.Of(system).Select(g => g.Name))} would be right");
            else if (grade is null && !a.Has("grade"))
                a.Fault("grade", "missing; the median grain in micrometres would be right");
        }

        double? rate = Required(a, "areaPerPassMm2", Limits.PositiveTo(100), "mm²");
        CuttingRate cutting = CuttingRate.Guess(rate ?? 1);
        foreach (FieldReader visit in a.Objects("learnt", [.. LearntKeys]))
        {
            double? area = Required(visit, "areaMm2", Limits.PositiveTo(100), "mm²"), passes = Required(visit, "passes", new Limits(1, 100_000), "passes");
            if (passes is { } n && Math.Abs(n - Math.Round(n)) > 1e-9)
                visit.Fault("passes", "a whole number of passes would be right");
            else if (area is { } mm2 && passes is { } whole)
                cutting = cutting.Learn(mm2, (int)Math.Round(whole));
        }

        int medium = Array.IndexOf(Media, a.Word("medium", Media));
        double? diameter = a.LengthMm("wheelDiameterMm", Limits.PositiveTo(2000)), rpm = a.Number("rpm", Limits.PositiveTo(100_000), "1/min"), limit = a.Number("markedLimitMs", Limits.PositiveTo(500), "m/s");
        if (diameter is null && (rpm is not null || limit is not null))
            a.Fault("wheelDiameterMm", "missing; rpm and markedLimitMs need the wheel's diameter today");
        return grade is null || rate is null ? null : new(name, grade.D50Um, cutting, a.Number("changeMinutes", new Limits(0, 1000), "min") ?? 0)
        {
            Medium = medium < 0 ? null : (StageMedium)medium,
            Wheel = diameter is { } mm ? new(name, new(Length.FromMillimetres(mm), Length.FromMillimetres(Wheel.UsualDiameterUMm))) { Rpm = rpm, MarkedLimitMs = limit } : null,
        };
    }

    private static (double Left, double Right)? Pair(FieldReader root, string key, Limits limits)
    {
        if (root.Object(key, [.. PairKeys]) is not { } pair)
            return null;
        double? left = Required(pair, "left", limits, "mm"), right = Required(pair, "right", limits, "mm");
        return left is { } l && right is { } r ? (l, r) : null;
    }

    private static double? Required(FieldReader from, string key, Limits limits, string unit)
    {
        if (!from.Has(key))
            from.Fault(key, $"missing; a number {limits.ToText(unit)} would be right");
        return from.Number(key, limits, unit);
    }
}
