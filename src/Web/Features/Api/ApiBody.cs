using System.Text;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;

namespace Whetwright.Web.Features.Api;

/// <summary>The document that a program sent.</summary>
internal static class ApiBody
{
    /// <summary>Most bytes of a document: a blade's outline of thousands of points fits. Chosen, not derived.</summary>
    public const int MostBytes = 2 * 1024 * 1024;

    /// <summary>The text; or the problem. Only <c>application/json</c>: a page from elsewhere cannot send that unasked.</summary>
    public static async Task<(string? Json, IResult? Problem)> ReadAsync(HttpContext http)
    {
        if (!http.Request.HasJsonContentType())
            return (null, ApiProblem.Of(StatusCodes.Status415UnsupportedMediaType, "Not JSON", $"The content type is '{http.Request.ContentType}'; application/json would be right."));
        if (http.Request.ContentLength > MostBytes)
            return (null, TooLarge());
        using MemoryStream all = new();
        byte[] part = new byte[16 * 1024];
        int read;
        while ((read = await http.Request.Body.ReadAsync(part, http.RequestAborted)) > 0)
        {
            if (all.Length + read > MostBytes)
                return (null, TooLarge());
            all.Write(part, 0, read);
        }

        try
        {
            return (new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(all.GetBuffer(), 0, (int)all.Length), null);
        }
        catch (DecoderFallbackException)
        {
            return (null, ApiProblem.Wrong(new FieldFault("$", null, "the document is not UTF-8; JSON in UTF-8 would be right")));
        }
    }

    /// <summary>A document that stands inside, as text; null where there is none. Call after the whole was read as JSON.</summary>
    public static string? Inner(string json, string key) => JsonNode.Parse(json)?[key] is JsonObject inner ? inner.ToJsonString() : null;

    private static IResult TooLarge() =>
        ApiProblem.Of(StatusCodes.Status413PayloadTooLarge, "Too large", $"The document is larger than {MostBytes / 1024 / 1024} MB, the limit here.");
}
