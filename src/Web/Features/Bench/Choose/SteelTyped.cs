using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Records.Standing;

namespace Whetwright.Web.Features.Bench.Choose;

/// <summary>What choosing needs of the visits before.</summary>
internal sealed record ChoiceQueries(LastTimeQuery LastTime, EdgeHistoryQuery History);

/// <summary>A steel as typed into the page's address: for the ratio of life, not kept.</summary>
/// <param name="Fields">Key, label and what was typed.</param>
/// <param name="Data">The steel; null where no hardness was typed or something is wrong.</param>
/// <param name="Wrong">What is wrong and what would be right; null where nothing is.</param>
public sealed record SteelTyped(IReadOnlyList<(string Key, string Label, string Typed)> Fields, SteelData? Data, string? Wrong)
{
    private static readonly (string Key, string Label, double Most)[] Known =
    [
        ("hrc", "Hardness, HRC", 70), ("fe3c", "Cementite, %", 40), ("crc", "Chromium carbide, %", 40), ("crvc", "with vanadium in it, %", 40), ("mc", "Vanadium or niobium carbide, %", 40),
        ("m6c", "Tungsten or molybdenum carbide, %", 40), ("mn", "Vanadium nitride, %", 40), ("crn", "Chromium nitride, %", 40),
    ];

    /// <summary>Nothing typed.</summary>
    public static SteelTyped None { get; } = new([.. Known.Select(k => (k.Key, k.Label, ""))], null, null);

    /// <summary>Something was typed.</summary>
    public bool Typed => Fields.Any(f => f.Typed.Length > 0);

    internal static SteelTyped From(IQueryCollection query)
    {
        List<(string, string, string)> fields = [];
        Dictionary<string, double> values = [];
        string? wrong = null;
        foreach ((string key, string label, double most) in Known)
        {
            string typed = query[key].ToString().Trim();
            fields.Add((key, label, typed.Length > 20 ? typed[..20] : typed));
            double least = key == "hrc" ? 20 : 0;
            if (typed.Length == 0)
                continue;
            if (TypedNumber.Parse(typed) is Typed<double>.Value { Of: var value } && value >= least && value <= most)
                values[key] = value;
            else
                wrong ??= $"{label}: '{typed}' is not a number from {least} to {most}; one such as {(key == "hrc" ? "60" : "3,5")} would be right.";
        }

        if (wrong is null && values.Count > 0 && !values.ContainsKey("hrc"))
            wrong = "Hardness is empty; without it the fit says nothing. 60 would be right for many kitchen knives (common practice, no source).";
        double Of(string key) => values.GetValueOrDefault(key);
        return new(fields, wrong is not null || !values.ContainsKey("hrc") ? null : new(Of("hrc"))
        {
            CementitePercent = Of("fe3c"), ChromiumCarbidePercent = Of("crc"), ChromiumVanadiumCarbidePercent = Of("crvc"), VanadiumCarbidePercent = Of("mc"),
            TungstenCarbidePercent = Of("m6c"), VanadiumNitridePercent = Of("mn"), ChromiumNitridePercent = Of("crn"),
        }, wrong);
    }
}
