using System.Text.Json;
using Whetwright.Core.Quantities;

namespace Whetwright.Formats.Writing;

/// <summary>How results are written: one document, indented, numbers with at most nine decimals, nothing that is not finite.</summary>
public static class JsonResults
{
    /// <summary>Writes one document whose root is an object that begins with <c>formatVersion</c>.</summary>
    public static string Document(Action<Utf8JsonWriter> fields)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteNumber("formatVersion", FormatVersion.Current);
            fields(json);
            json.WriteEndObject();
        }

        return System.Text.Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length) + "\n";
    }

    /// <summary>A number, or null where it is not known (or not finite: an uncertainty without bound is not known).</summary>
    public static void Number(this Utf8JsonWriter json, string key, double? value)
    {
        json.WritePropertyName(key);
        json.Item(value);
    }

    /// <summary>A number in a list, or null.</summary>
    public static void Item(this Utf8JsonWriter json, double? value)
    {
        if (value is { } v && double.IsFinite(v))
            json.WriteNumberValue(Math.Round(v, 9) + 0.0);
        else
            json.WriteNullValue();
    }

    /// <summary>Two numbers in a list.</summary>
    public static void Pair(this Utf8JsonWriter json, string key, double first, double second)
    {
        json.WritePropertyName(key);
        json.WriteStartArray();
        json.Item(first);
        json.Item(second);
        json.WriteEndArray();
    }

    /// <summary>A point or null.</summary>
    public static void Point(this Utf8JsonWriter json, string key, Point2? point)
    {
        if (point is { } p)
            json.Pair(key, p.X, p.Y);
        else
            json.WriteNull(key);
    }

    /// <summary>A list of points [[x, y], …].</summary>
    public static void Points(this Utf8JsonWriter json, string key, IEnumerable<Point2> points)
    {
        json.WriteStartArray(key);
        foreach (Point2 p in points)
        {
            json.WriteStartArray();
            json.Item(p.X);
            json.Item(p.Y);
            json.WriteEndArray();
        }

        json.WriteEndArray();
    }

    /// <summary>A list of objects.</summary>
    public static void List<T>(this Utf8JsonWriter json, string key, IEnumerable<T> items, Action<T> fields)
    {
        json.WriteStartArray(key);
        foreach (T item in items)
        {
            json.WriteStartObject();
            fields(item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>An object.</summary>
    public static void Object(this Utf8JsonWriter json, string key, Action fields)
    {
        json.WriteStartObject(key);
        fields();
        json.WriteEndObject();
    }

    /// <summary>reasons:[{code,text}].</summary>
    public static void Reasons(this Utf8JsonWriter json, IEnumerable<Reason> reasons) => json.List("reasons", reasons, r =>
    {
        json.WriteString("code", r.Code);
        json.WriteString("text", r.Text);
    });

    /// <summary>left or right, or null.</summary>
    public static string? Word(Side? side) => side switch { Side.Left => "left", Side.Right => "right", _ => null };

    /// <summary>A refusal of the work: <c>outcome</c> and <c>reasons</c>.</summary>
    public static void Refusal(this Utf8JsonWriter json, IEnumerable<Reason> reasons)
    {
        json.WriteString("outcome", "refused");
        json.Reasons(reasons);
    }

    /// <summary>The chain of derivations, for <c>--explain</c>.</summary>
    public static void Derivations(this Utf8JsonWriter json, IEnumerable<Derivation> derivations) =>
        json.List("explain", derivations, d => Fields(json, d));

    private static void Fields(Utf8JsonWriter json, Derivation d)
    {
        json.WriteString("name", d.Name);
        json.Number("value", d.Value);
        json.WriteString("unit", d.Unit);
        json.WriteString("formula", d.Formula);
        json.WriteString("source", d.Source);
        json.WriteString("method", d.Method);
        json.List("inputs", d.Inputs, i =>
        {
            json.WriteString("symbol", i.Symbol);
            json.WriteString("name", i.Name);
            json.Number("value", i.Value);
            json.WriteString("unit", i.Unit);
            json.Number("partial", i.Partial);
            json.WriteBoolean("isDefault", i.IsDefault);
            if (i.From is { } from)
                json.Object("from", () => Fields(json, from));
        });
    }
}
