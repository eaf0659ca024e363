using System.Globalization;
using System.Text;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>
/// The bench sheet as one self-contained page: no file beside it, no script, light and dark, from a phone's width up, and one printed page.
/// The same sheet always gives the same text. All text is escaped.
/// </summary>
public static class BenchSheetHtml
{
    /// <summary>The page.</summary>
    /// <exception cref="ArgumentException">No clamp, or a clamp without a setting.</exception>
    public static string Write(BenchSheet sheet)
    {
        BenchSheetWords.Check(sheet);
        var words = new BenchSheetWords(sheet);
        var html = new StringBuilder();
        html.Append("<!DOCTYPE html>\n<html lang=\"en\"").Append(sheet.Clamps.Count > 1 ? " class=\"dense two\"" : Dense(sheet) ? " class=\"dense\"" : "").Append(">\n<head>\n<meta charset=\"utf-8\"/>\n");
        html.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        html.Append(CultureInfo.InvariantCulture, $"<title>Bench sheet {E(sheet.Reference)}: {E(sheet.Title)}</title>\n<style>\n{BenchSheetStyle.Css}</style>\n</head>\n");
        html.Append(sheet.Style.LeftHanded ? "<body class=\"left-handed\">\n<main>\n" : "<body>\n<main>\n");
        Header(html, sheet);
        html.Append("<div class=\"top\">\n");
        Dials(html, sheet, words);
        html.Append("</div>\n");
        html.Append("<div class=\"clamps\">\n");
        for (int i = 0; i < sheet.Clamps.Count; i++)
            Clamp(html, sheet, words, i);
        html.Append("</div>\n");
        html.Append("<div class=\"columns\">\n");
        Section(html, sheet);
        Reading(html, sheet, words);
        Pens(html, sheet, words);
        Stages(html, sheet);
        html.Append("</div>\n");
        Foot(html, sheet, words);
        html.Append("</main>\n</body>\n</html>\n");
        return html.ToString();
    }

    /// <summary>Whether so much stands on the sheet that print must be smaller to keep to one page.</summary>
    private static bool Dense(BenchSheet sheet) =>
        sheet.Clamps.Count > 1 || sheet.Clamps[0].Settings.Count > 3 || sheet.Stages.Count > 6 || sheet.PenTests.Count > 1
        || sheet.Cautions.Count + sheet.Omissions.Count > 9;

    private static void Header(StringBuilder html, BenchSheet sheet)
    {
        html.Append(CultureInfo.InvariantCulture, $"<header>\n<div><h1>{E(sheet.Title)}</h1>\n<p>");
        string?[] parts = [sheet.Owner, sheet.Wish is { } wish ? "wanted: " + wish : null, sheet.RigName is { } rig ? "rig: " + rig : null, sheet.Date];
        html.AppendJoin(" · ", parts.OfType<string>().Select(E)).Append("</p>\n");
        if (sheet.InventedNote is { } invented)
            html.Append(CultureInfo.InvariantCulture, $"<p class=\"quiet\">{E(invented)}</p>\n");
        html.Append(CultureInfo.InvariantCulture, $"</div>\n<p class=\"reference\"><span class=\"unseen\">Number </span>{E(sheet.Reference)}</p>\n</header>\n");
    }

    private static void Dials(StringBuilder html, BenchSheet sheet, BenchSheetWords words)
    {
        html.Append("<section aria-labelledby=\"dial\" class=\"dials\"").Append(CultureInfo.InvariantCulture, $" style=\"--rows:{BenchSheetWords.Rows(sheet.Clamps[0]).Count}\"").Append(">\n<h2 id=\"dial\">Dial</h2>\n");
        for (int i = 0; i < sheet.Clamps.Count; i++)
        {
            foreach (IReadOnlyList<BenchSetting> row in BenchSheetWords.Rows(sheet.Clamps[i]))
            {
                string clamp = sheet.Clamps.Count > 1 ? $"clamp {i + 1}: " : "";
                bool stale = row.Any(s => s.IsStale);
                html.Append(stale ? "<article class=\"stale\">\n" : "<article>\n");
                html.Append(CultureInfo.InvariantCulture, $"<h3>{E(clamp + row[0].Name)} <small>{E(row[0].DialName)}</small></h3>\n<div class=\"numbers\">\n");
                foreach (BenchSetting setting in row)
                {
                    string angle = words.Angle(setting);
                    html.Append(CultureInfo.InvariantCulture, $"<p><span class=\"side\">{E(BenchSheetWords.SideName(setting))}{(angle.Length > 0 ? ", " + E(angle) : "")}</span>");
                    html.Append(CultureInfo.InvariantCulture, $"<strong>{E(words.DialNumber(setting))}</strong> <span class=\"unit\">{E(words.DialUnit(setting))}</span></p>\n");
                }

                html.Append("</div>\n<ul>\n");
                foreach (string line in words.RowLines(row))
                    html.Append(CultureInfo.InvariantCulture, $"<li>{E(line)}</li>\n");
                html.Append("</ul>\n</article>\n");
            }
        }

        html.Append("</section>\n");
        RigView? rig = sheet.Clamps.SelectMany(c => c.Settings).Select(s => s.Rig).FirstOrDefault(r => r is not null);
        if (rig is null)
            return;
        string of = rig is WheelAndBarView wheel ? $"From the side, to scale, for {wheel.WheelName}" : "From the side, to scale";
        html.Append("<figure class=\"rig\">\n").Append(SvgWriter.Inline(RigPicture.Draw(rig, sheet.Style)));
        html.Append(CultureInfo.InvariantCulture, $"<figcaption>{E(of)}</figcaption>\n</figure>\n");
    }

    private static void Clamp(StringBuilder html, BenchSheet sheet, BenchSheetWords words, int index)
    {
        BenchClamp clamp = sheet.Clamps[index];
        html.Append(CultureInfo.InvariantCulture, $"<section aria-labelledby=\"clamp{index}\" class=\"clamp\">\n<h2 id=\"clamp{index}\">{E(words.ClampHead(clamp, index))}</h2>\n");
        Facts(html, words.ClampFacts(clamp), "facts");
        html.Append(CultureInfo.InvariantCulture, $"<p{(clamp.Clears == false ? " class=\"warn\"" : "")}>{E(BenchSheetWords.ClearsLine(clamp))}</p>\n");
        if (clamp.EdgeAngles is { } angles)
        {
            html.Append("<figure class=\"wide\">\n").Append(SvgWriter.Inline(EdgeAnglePicture.Draw(angles, sheet.Style, 186, 60)));
            html.Append("</figure>\n<figure class=\"narrow\">\n").Append(SvgWriter.Inline(EdgeAnglePicture.Draw(angles, sheet.Style, 100, 66))).Append("</figure>\n");
        }

        if (words.Uncertainty(clamp) is { } known)
            html.Append(CultureInfo.InvariantCulture, $"<p>{E(known)}</p>\n");
        html.Append("</section>\n");
    }

    private static void Section(StringBuilder html, BenchSheet sheet)
    {
        html.Append("<section aria-labelledby=\"section\">\n<h2 id=\"section\">Section</h2>\n");
        if (sheet.Section is { } section)
            html.Append("<figure>\n").Append(SvgWriter.Inline(SectionPicture.Draw(section, sheet.Style, 66, 56))).Append("</figure>\n");
        else
            html.Append("<p>No section: what it needs was not given.</p>\n");
        Facts(html, sheet.SectionFacts, "pairs");
        html.Append("</section>\n");
    }

    private static void Reading(StringBuilder html, BenchSheet sheet, BenchSheetWords words)
    {
        html.Append("<section aria-labelledby=\"found\">\n<h2 id=\"found\">Found</h2>\n");
        if (sheet.Reading is null)
            html.Append("<p>Not read.</p>\n");
        Facts(html, words.ReadingFacts(), "pairs");
        if (sheet.Reading?.Marks is { } marks)
            html.Append("<figure>\n").Append(SvgWriter.Inline(ReadingPicture.Draw(marks, sheet.Style, 76, 23))).Append("</figure>\n");
        List(html, words.ReadingNotes());
        html.Append("</section>\n");
    }

    private static void Pens(StringBuilder html, BenchSheet sheet, BenchSheetWords words)
    {
        if (sheet.PenTests.Count == 0)
            return;
        html.Append("<section aria-labelledby=\"pen\">\n<h2 id=\"pen\">Pen test to expect</h2>\n");
        foreach (PenTestView pen in sheet.PenTests)
        {
            html.Append("<figure>\n").Append(SvgWriter.Inline(PenTestPicture.Draw(pen, sheet.Style, 66, 18)));
            html.Append(CultureInfo.InvariantCulture, $"<figcaption>{E(words.PenLine(pen))}</figcaption>\n</figure>\n");
        }

        html.Append("</section>\n");
    }

    private static void Stages(StringBuilder html, BenchSheet sheet)
    {
        html.Append("<section aria-labelledby=\"stages\">\n<h2 id=\"stages\">Stages</h2>\n");
        if (sheet.Stages.Count == 0)
            html.Append("<p>No abrasives given.</p>\n");
        else
            html.Append("<ol class=\"stages\">\n");
        foreach (BenchStage stage in sheet.Stages)
        {
            string rest = string.Join(" · ", new[] { stage.Passes, stage.Note }.OfType<string>());
            html.Append(CultureInfo.InvariantCulture, $"<li><label><input type=\"checkbox\"/><span><b>{E(stage.Name)}</b>{(stage.Grade is { } grade ? " " + E(grade) : "")}");
            html.Append(CultureInfo.InvariantCulture, $"<br/><span class=\"quiet\">{E(rest)}</span></span></label></li>\n");
        }

        html.Append(sheet.Stages.Count == 0 ? "</section>\n" : "</ol>\n</section>\n");
    }

    private static void Foot(StringBuilder html, BenchSheet sheet, BenchSheetWords words)
    {
        html.Append("<div class=\"boxes\">\n");
        if (sheet.Cautions.Count > 0)
        {
            html.Append("<section aria-labelledby=\"beware\" class=\"box\">\n<h2 id=\"beware\">⚠ Beware</h2>\n");
            List(html, sheet.Cautions);
            html.Append("</section>\n");
        }

        string[] gaps = [.. words.Gaps()];
        if (gaps.Length > 0)
        {
            html.Append("<section aria-labelledby=\"gaps\" class=\"box\">\n<h2 id=\"gaps\">Left out, or taken as default</h2>\n");
            List(html, gaps);
            html.Append("</section>\n");
        }

        html.Append(CultureInfo.InvariantCulture, $"</div>\n<footer>\n<p>{E(BenchSheetWords.StaleNote)}</p>\n<p>{E(BenchSheetWords.Promise)}</p>\n</footer>\n");
    }

    private static void Facts(StringBuilder html, IEnumerable<BenchFact> facts, string name)
    {
        BenchFact[] all = [.. facts];
        if (all.Length == 0)
            return;
        html.Append(CultureInfo.InvariantCulture, $"<dl class=\"{name}\">\n");
        foreach (BenchFact fact in all)
            html.Append(CultureInfo.InvariantCulture, $"<div><dt>{E(fact.Name)}</dt><dd>{E(fact.Value)}</dd></div>\n");
        html.Append("</dl>\n");
    }

    private static void List(StringBuilder html, IEnumerable<string> lines)
    {
        string[] all = [.. lines];
        if (all.Length == 0)
            return;
        html.Append("<ul>\n");
        foreach (string line in all)
            html.Append(CultureInfo.InvariantCulture, $"<li>{E(line)}</li>\n");
        html.Append("</ul>\n");
    }

    private static string E(string? words) => Printable.Escaped(words);
}
