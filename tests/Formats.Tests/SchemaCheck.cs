using System.Text.Json;

namespace Whetwright.Formats.Tests;

/// <summary>
/// As much of JSON Schema 2020-12 as our schemas use: type, enum, const, properties, required, additionalProperties, items, minItems,
/// maxItems, $ref to $defs. Independent of the readers.
/// </summary>
internal sealed class SchemaCheck(JsonElement root)
{
    public static SchemaCheck Of(string name)
    {
        using var document = JsonDocument.Parse(System.IO.File.ReadAllText(Repository.File("docs", "formats", name + ".schema.json")));
        return new(document.RootElement.Clone());
    }

    /// <summary>Faults of a document; empty where it conforms.</summary>
    public List<string> Faults(string json)
    {
        using var document = JsonDocument.Parse(json);
        List<string> faults = [];
        Check(document.RootElement, root, "$", faults);
        return faults;
    }

    /// <summary>Keys of the object at a path of property names; an item of a list is <c>[]</c>.</summary>
    public IReadOnlyList<string> Keys(params string[] path)
    {
        JsonElement at = root;
        foreach (string step in path)
            at = Resolve(step == "[]" ? at.GetProperty("items") : at.GetProperty("properties").GetProperty(step));
        return [.. at.GetProperty("properties").EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal)];
    }

    private void Check(JsonElement value, JsonElement given, string path, List<string> faults)
    {
        JsonElement schema = Resolve(given);
        if (schema.TryGetProperty("const", out JsonElement only) && only.GetRawText() != value.GetRawText())
            faults.Add($"{path} must be {only}");
        if (schema.TryGetProperty("enum", out JsonElement words) && !words.EnumerateArray().Any(w => w.GetRawText() == value.GetRawText()))
            faults.Add($"{path} is {value}, not one of {words}");
        if (schema.TryGetProperty("type", out JsonElement type) && !Allows(type, NameOf(value)))
        {
            faults.Add($"{path} is a {NameOf(value)}, not {type}");
            return;
        }

        if (value.ValueKind == JsonValueKind.Object && schema.TryGetProperty("properties", out JsonElement properties))
            CheckObject(value, schema, properties, path, faults);
        if (value.ValueKind == JsonValueKind.Array)
            CheckList(value, schema, path, faults);
    }

    private void CheckObject(JsonElement value, JsonElement schema, JsonElement properties, string path, List<string> faults)
    {
        foreach (JsonProperty p in value.EnumerateObject())
        {
            if (properties.TryGetProperty(p.Name, out JsonElement inner))
                Check(p.Value, inner, $"{path}.{p.Name}", faults);
            else
                faults.Add($"{path}.{p.Name} is not in the schema");
        }

        if (!schema.TryGetProperty("required", out JsonElement required))
            return;
        foreach (JsonElement name in required.EnumerateArray())
        {
            if (!value.TryGetProperty(name.GetString()!, out _))
                faults.Add($"{path}.{name} is missing");
        }
    }

    private void CheckList(JsonElement value, JsonElement schema, string path, List<string> faults)
    {
        if (schema.TryGetProperty("minItems", out JsonElement least) && value.GetArrayLength() < least.GetInt32())
            faults.Add($"{path} has fewer than {least} items");
        if (schema.TryGetProperty("maxItems", out JsonElement most) && value.GetArrayLength() > most.GetInt32())
            faults.Add($"{path} has more than {most} items");
        if (!schema.TryGetProperty("items", out JsonElement items))
            return;
        int i = 0;
        foreach (JsonElement item in value.EnumerateArray())
            Check(item, items, $"{path}[{i++}]", faults);
    }

    private JsonElement Resolve(JsonElement schema) => schema.TryGetProperty("$ref", out JsonElement to)
        ? root.GetProperty("$defs").GetProperty(to.GetString()!.Split('/')[^1])
        : schema;

    private static bool Allows(JsonElement type, string name) => Types(type).Contains(name, StringComparer.Ordinal) || (name == "integer" && Types(type).Contains("number", StringComparer.Ordinal));

    private static IEnumerable<string> Types(JsonElement type) => type.ValueKind == JsonValueKind.Array
        ? type.EnumerateArray().Select(t => t.GetString()!)
        : [type.GetString()!];

    private static string NameOf(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Object => "object",
        JsonValueKind.Array => "array",
        JsonValueKind.String => "string",
        JsonValueKind.Number => value.TryGetInt64(out _) ? "integer" : "number",
        JsonValueKind.True or JsonValueKind.False => "boolean",
        _ => "null",
    };
}
