using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>The sentences of a bench sheet, said once for paper and for screen.</summary>
internal sealed class BenchSheetWords(BenchSheet sheet)
{
    internal const string StaleNote = "A setting is stale if its wheel was measured or dressed since the entry it names.";
    internal const string Promise = "± is two standard uncertainties (k = 2). We compute; the maker's instructions and local rules decide.";

    internal Figures Figures { get; } = new(sheet.Style);

    /// <summary>The number to dial, without its unit.</summary>
    internal string DialNumber(BenchSetting setting) => setting switch
    {
        { DialMm: { } mm } => Figures.LengthNumber(mm, 2),
        { DialDeg: { } deg } => Figures.Fixed(deg, 2),
        _ => "not known",
    };

    internal string DialUnit(BenchSetting setting) => setting switch
    {
        { DialMm: not null } => Figures.LengthUnit,
        { DialDeg: not null } => "°",
        _ => "",
    };

    internal static string SideName(BenchSetting setting) => setting.BladeSide switch
    {
        Side.Left => "left side",
        Side.Right => "right side",
        _ => "both sides",
    };

    internal string Angle(BenchSetting setting) => setting.AngleDeg is { } deg
        ? Figures.Degrees(deg, 2) + (setting.FromTheBack ? " from the back" : " a side")
        : "";

    /// <summary>What stands beside the numbers of one wheel (one for both sides, or one per side), the most needed first.</summary>
    internal IEnumerable<string> RowLines(IReadOnlyList<BenchSetting> row, bool withDiameter = true)
    {
        if (row.Any(s => s.IsStale))
            yield return "⚠ STALE: the wheel was measured or dressed since. Compute again before you dial.";
        if (row.Any(s => s.TravelMm is not null))
            yield return "from now: " + PerSide(row, Travel);
        if (row.Any(s => s.TouchOffMm is not null))
        {
            string where = row.Select(s => s.TouchOffText).FirstOrDefault(t => t is not null) is { } text ? ", " + text : "";
            yield return "touch-off " + PerSide(row, s => s.TouchOffMm is { } mm ? Figures.Length(mm) : null) + where;
        }

        if (withDiameter && Diameter(row[0]) is { } diameter)
            yield return diameter;
        if (row.Any(s => s.DialU is not null))
            yield return "known to " + PerSide(row, s => s.DialU is { } u ? "± " + (s.DialMm is not null ? Figures.Length(2 * u, 2) : Figures.Degrees(2 * u, 2)) : null);
        if (row[0].Also.Count > 0)
            yield return PerSide(row, s => string.Join(", ", s.Also.Select(a => a.Name + " " + a.Value)));
    }

    private string? Travel(BenchSetting setting)
    {
        if (setting.TravelMm is not { } travel)
            return null;
        if (Math.Abs(travel) < 0.005)
            return "stay";
        string turns = setting.TravelTurns is { } t ? $" ({Figures.Fixed(Math.Abs(t), 2)} turns)" : "";
        return Figures.Change(travel) + turns + (setting.Rig is GuidedRodView ? (travel > 0 ? " up" : " down") : travel > 0 ? " away from wheel" : " toward wheel");
    }

    private static string PerSide(IReadOnlyList<BenchSetting> row, Func<BenchSetting, string?> said)
    {
        string[] each = [.. row.Select(s => said(s) ?? "not known")];
        return each.Distinct(StringComparer.Ordinal).Count() == 1
            ? each[0]
            : string.Join("; ", row.Select((s, i) => (s.BladeSide == Side.Left ? "left " : "right ") + each[i]));
    }

    /// <summary>Which diameter entry a setting used.</summary>
    internal string? Diameter(BenchSetting setting)
    {
        if (setting.DiameterMm is not { } mm)
            return null;
        string u = setting.DiameterUMm is { } du ? " ± " + Figures.Length(2 * du, 2) : "";
        string entry = setting.DiameterIsDefault ? "default, not measured" : setting.DiameterWorn ?? setting.DiameterEntry ?? "entry not named";
        return $"Ø {Figures.Length(mm, 2)}{u} ({entry})";
    }

    /// <summary>The diameter entries of all wheels, each once, by name.</summary>
    internal IReadOnlyList<string> Diameters() =>
    [
        .. sheet.Clamps.SelectMany(c => c.Settings).Where(s => s.DiameterMm is not null)
            .GroupBy(s => s.Name, StringComparer.Ordinal).Select(g => g.Key + " " + Diameter(g.First())),
    ];

    /// <summary>What to do at the jaw.</summary>
    internal IEnumerable<BenchFact> ClampFacts(BenchClamp clamp)
    {
        if (clamp.JawFromHeelMm is { } jaw)
            yield return new("jaw from heel, middle", Figures.Length(jaw));
        if (clamp.ProtrusionMm is { } out1)
            yield return new("edge out of the jaw", Figures.Length(out1));
        if (clamp.PlaneTiltDeg is { } tilt)
            yield return new("tilt in the jaw", Math.Abs(tilt) < 0.05 ? "none" : Figures.Degrees(Math.Abs(tilt)) + (tilt > 0 ? ", tip up" : ", tip down"));
        if (clamp.ShimMm is { } shim)
            yield return new("shim", Figures.Length(shim, 2));
        if (clamp.WorstDeg is { } worst)
            yield return new("worst along edge" + (clamp.BoundDeg is { } bound ? $" (no clamp below {Figures.Degrees(bound, 2)})" : ""), Figures.Degrees(worst, 2));
    }

    internal static string ClearsLine(BenchClamp clamp) => clamp.Clears switch
    {
        true => "Clears: jaw, spine and handle stay off the abrasive.",
        false => "⚠ DOES NOT CLEAR: " + (clamp.ClearsText ?? "jaw, spine or handle meets the abrasive."),
        null => clamp.ClearsText ?? "Clearance not checked: the jaw is not described. Turn the wheel by hand first.",
    };

    internal string ClampHead(BenchClamp clamp, int index) => sheet.Clamps.Count == 1
        ? "Clamp"
        : $"Clamp {(index + 1).ToString(CultureInfo.InvariantCulture)}: {Figures.Length(clamp.FromMm, 0)} to {Figures.Length(clamp.ToMm, 0)} from the heel";

    internal string? Uncertainty(BenchClamp clamp)
    {
        if (clamp.UDeg is not { } u)
            return clamp.MeasureNext is { } next ? "Measure next: " + next : null;
        string text = $"Angle ground is known to ± {Figures.Degrees(2 * u)}.";
        return clamp.MeasureNext is { } more ? text + " Measure next: " + more : text;
    }

    internal IEnumerable<BenchFact> ReadingFacts()
    {
        if (sheet.Reading is not { } reading)
            yield break;
        if (reading.IncludedDeg is { } included)
            yield return new("included", Figures.Degrees(included, reading.IncludedUDeg));
        if (reading.LeftDeg is { } left)
            yield return new("left", Figures.Degrees(left, reading.LeftUDeg));
        if (reading.RightDeg is { } right)
            yield return new("right", Figures.Degrees(right, reading.RightUDeg));
    }

    internal IEnumerable<string> ReadingNotes()
    {
        if (sheet.Reading is not { } reading)
            yield break;
        foreach (string cannot in reading.CannotKnow)
            yield return "Cannot know: " + cannot;
        if (reading.MeasureNext is { } next)
            yield return "Measure next: " + next;
    }

    /// <summary>What is left out, and what rests on defaults.</summary>
    internal IEnumerable<string> Gaps()
    {
        foreach (Reason reason in sheet.Omissions)
            yield return reason.Text;
        foreach (string correction in sheet.Corrections)
            yield return correction;
        foreach (WearNote wear in sheet.Wear)
            yield return wear.Text;
        if (sheet.Wear.Count > 0 && sheet.Budget.Count > 0)
            yield return "The uncertainty of the angle comes from " + string.Join(", ", sheet.Budget) + " (k = 2).";
        if (sheet.DefaultsUsed.Count > 0)
            yield return "Defaults, not measured: " + string.Join("; ", sheet.DefaultsUsed) + ".";
    }

    /// <summary>Settings of one clamp by wheel, in order; each with one entry or one per side.</summary>
    internal static IReadOnlyList<IReadOnlyList<BenchSetting>> Rows(BenchClamp clamp) =>
        [.. clamp.Settings.GroupBy(s => s.Name, StringComparer.Ordinal).SelectMany(g => g.Chunk(2)).Select(g => (IReadOnlyList<BenchSetting>)g)];

    /// <summary>What a pen test says, in a line or two.</summary>
    internal string PenLine(Pictures.PenTestView pen)
    {
        string name = pen.For is { } wheel ? wheel + ": " : "";
        string meaning = pen.Meaning is { } text ? " " + text : "";
        return $"{name}touches first {pen.FirstTouch}; bare {Figures.Small(pen.BareFromMm)} to {Figures.Small(pen.BareToMm)} off the apex.{meaning}";
    }

    internal static void Check(BenchSheet sheet)
    {
        if (sheet.Clamps.Count == 0 || sheet.Clamps.Any(c => c.Settings.Count == 0))
            throw new ArgumentException("A bench sheet needs a clamp with a setting; a refused setting has no sheet to print.", nameof(sheet));
        if (sheet.Clamps.SelectMany(c => c.Settings).Any(s => s.DialMm is { } mm && !double.IsFinite(mm) || s.DialDeg is { } deg && !double.IsFinite(deg)))
            throw new ArgumentException("A number to dial is not finite.", nameof(sheet));
    }
}
