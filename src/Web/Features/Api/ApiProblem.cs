using Microsoft.AspNetCore.Http;
using Whetwright.Formats.Reading;
using Whetwright.Records.Saving;

namespace Whetwright.Web.Features.Api;

/// <summary>What is wrong with one field.</summary>
/// <param name="Field">Where, as a path: <c>$.measured.leftUDeg</c>.</param>
/// <param name="Value">What stood there; null for nothing.</param>
/// <param name="Right">What would be right.</param>
public sealed record FieldFault(string Field, string? Value, string Right);

/// <summary>Problems as RFC 9457 has them, with the fields in <c>problems</c>.</summary>
internal static class ApiProblem
{
    public static IResult Of(int status, string title, string detail, params IEnumerable<FieldFault> faults)
    {
        FieldFault[] all = [.. faults];
        return Results.Problem(detail, statusCode: status, title: title, type: "about:blank", extensions: all.Length == 0 ? null : new Dictionary<string, object?>(StringComparer.Ordinal) { ["problems"] = all });
    }

    /// <summary>The request was understood and is not right.</summary>
    public static IResult Wrong(params IEnumerable<FieldFault> faults)
    {
        FieldFault[] all = [.. faults];
        return Of(StatusCodes.Status422UnprocessableEntity, "Not right", string.Join("; ", all.Select(f => f.Value is null ? $"{f.Field}: {f.Right}" : $"{f.Field} is {f.Value}: {f.Right}")), all);
    }

    public static IResult Missing(string detail) => Of(StatusCodes.Status404NotFound, "Not found", detail);

    /// <summary>Faults of a document that stood inside another.</summary>
    /// <param name="errors">The faults.</param>
    /// <param name="at">Where the document stood: <c>$.marks</c>.</param>
    public static IEnumerable<FieldFault> Faults(IEnumerable<FormatError> errors, string at = "$") =>
        errors.Select(e => new FieldFault(at + (e.Path.StartsWith('$') ? e.Path[1..] : "." + e.Path), e.Value.Length == 0 ? null : e.Value, e.Text));

    public static IEnumerable<FieldFault> Faults(IEnumerable<FieldProblem> problems) =>
        problems.Select(p => new FieldFault("$." + char.ToLowerInvariant(p.Field[0]) + p.Field[1..], string.IsNullOrEmpty(p.Value) ? null : p.Value, p.Right));
}
