using System.Net;
using System.Text.RegularExpressions;

namespace Whetwright.Load;

/// <summary>A form as a page shows it.</summary>
/// <param name="Action">Where it is sent.</param>
/// <param name="Fields">Fields with what stands in them.</param>
/// <param name="Files">Names of fields that take files.</param>
public sealed partial record SeenForm(string Action, IReadOnlyList<KeyValuePair<string, string>> Fields, IReadOnlyList<string> Files)
{
    /// <summary>Forms of a page that are posted.</summary>
    public static IEnumerable<SeenForm> In(string html)
    {
        foreach (Match form in Form().Matches(html))
        {
            if (Attribute(form.Groups["head"].Value, "method") != "post" || Attribute(form.Groups["head"].Value, "action") is not { } action)
                continue;
            List<KeyValuePair<string, string>> fields = [];
            List<string> files = [];
            string body = form.Groups["body"].Value;
            foreach (Match tag in Control().Matches(body))
            {
                string head = tag.Value;
                if (Attribute(head, "name") is not { } name)
                    continue;
                string? type = Attribute(head, "type");
                if (type == "file")
                    files.Add(name);
                else if (!head.StartsWith("<button", StringComparison.Ordinal) && (type is not ("radio" or "checkbox") || head.Contains(" checked", StringComparison.Ordinal)))
                    fields.Add(new(name, Attribute(head, "value") ?? ""));
            }

            foreach (Match list in List().Matches(body))
                fields.Add(new(list.Groups["name"].Value, Attribute(Chosen().Match(list.Groups["options"].Value).Value, "value") ?? ""));
            yield return new(action, fields, files);
        }
    }

    /// <summary>Addresses of this shop that a page leads to.</summary>
    public static IEnumerable<string> Links(string html) => Link().Matches(html).Select(m => WebUtility.HtmlDecode(m.Groups["at"].Value.Split('#')[0])).Where(a => a.Length > 0);

    private static string? Attribute(string tag, string name) =>
        Regex.Match(tag, $" {name}=\"([^\"]*)\"", RegexOptions.None, TimeSpan.FromSeconds(1)) is { Success: true } found ? WebUtility.HtmlDecode(found.Groups[1].Value) : null;

    [GeneratedRegex("<form(?<head>[^>]*)>(?<body>.*?)</form>", RegexOptions.Singleline | RegexOptions.ExplicitCapture)]
    private static partial Regex Form();

    [GeneratedRegex("<(input|textarea|button)[^>]*>", RegexOptions.ExplicitCapture)]
    private static partial Regex Control();

    [GeneratedRegex("<select[^>]* name=\"(?<name>[^\"]*)\"[^>]*>(?<options>.*?)</select>", RegexOptions.Singleline | RegexOptions.ExplicitCapture)]
    private static partial Regex List();

    [GeneratedRegex("<option[^>]* selected[^>]*>")]
    private static partial Regex Chosen();

    [GeneratedRegex("<a[^>]* href=\"(?<at>/[^\"]*)\"", RegexOptions.ExplicitCapture)]
    private static partial Regex Link();
}
