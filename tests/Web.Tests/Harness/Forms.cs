using System.Net;
using System.Text.RegularExpressions;

namespace Whetwright.Web.Tests.Harness;

/// <summary>Forms as a browser without scripts would send them.</summary>
internal static partial class Forms
{
    /// <summary>The fields of a page's form with what stands in them; of lists and radios the chosen one.</summary>
    public static async Task<Dictionary<string, string>> ReadAsync(HttpClient client, string path)
    {
        string html = await client.GetStringAsync(new Uri(path, UriKind.Relative));
        Dictionary<string, string> fields = new(StringComparer.Ordinal);
        foreach (Match input in Input().Matches(html))
        {
            string tag = input.Value;
            if (Attribute(tag, "name") is not { } name || (tag.Contains("type=\"radio\"", StringComparison.Ordinal) || tag.Contains("type=\"checkbox\"", StringComparison.Ordinal)) && !tag.Contains(" checked", StringComparison.Ordinal))
                continue;
            fields[name] = Attribute(tag, "value") ?? "";
        }

        foreach (Match select in Select().Matches(html))
            fields[select.Groups["name"].Value] = Attribute(Chosen().Match(select.Groups["options"].Value).Value, "value") ?? "";
        return fields;
    }

    private static string? Attribute(string tag, string name) =>
        Regex.Match(tag, $" {name}=\"([^\"]*)\"", RegexOptions.None, TimeSpan.FromSeconds(1)) is { Success: true } found ? WebUtility.HtmlDecode(found.Groups[1].Value) : null;

    [GeneratedRegex("<input[^>]*>")]
    private static partial Regex Input();

    [GeneratedRegex("<select[^>]* name=\"(?<name>[^\"]*)\"[^>]*>(?<options>.*?)</select>", RegexOptions.Singleline | RegexOptions.ExplicitCapture)]
    private static partial Regex Select();

    [GeneratedRegex("<option[^>]* selected[^>]*>")]
    private static partial Regex Chosen();
}
