using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Records.Saving;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Kit;

/// <summary>What the forms of the kit share.</summary>
internal static class KitAnswer
{
    /// <summary>The redirect after a save; null where the form is shown again, with what is wrong or what somebody else saved.</summary>
    public static IResult? To<T>(Submitted<T> outcome, WebForm form, string told, Func<T, (WebForm Form, long Version)>? theirs = null)
    {
        switch (outcome)
        {
            case Submitted<T>.Done done:
                return Page.SeeOther(done.LedTo, told);
            case Submitted<T>.Conflict conflict when theirs is not null:
                (WebForm now, long version) = theirs(conflict.Theirs);
                form.Meet(now, (int)version);
                return null;
            case Submitted<T>.Refused refused:
                form.Refuse(refused.Problems);
                return null;
            default:
                throw new InvalidOperationException("A new row meets no other version.");
        }
    }

    /// <summary>The version as forms carry it.</summary>
    public static string Version(long? seen) => seen?.ToString(CultureInfo.InvariantCulture) ?? "";

    /// <summary>The latest fact that the form had seen.</summary>
    public static Seen Seen(WebForm form) =>
        Records.Saving.Seen.Fact(long.TryParse(form.VersionSeen, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : null);

    /// <summary>A length for a field.</summary>
    public static Length? Mm(double? mm) => mm is { } v ? Length.FromMillimetres(v) : null;

    /// <summary>An angle for a field.</summary>
    public static Angle? Deg(double? deg) => deg is { } v ? Angle.FromDegrees(v) : null;

    /// <summary>An address with a key in it.</summary>
    public static string At(string path, long id) => path + id.ToString(CultureInfo.InvariantCulture);

    /// <summary>A PDF, shown in the browser.</summary>
    public static IResult Pdf(byte[] pdf, string name) => new NamedFile(pdf, "application/pdf", name, Inline: true);

    /// <summary>A file to keep.</summary>
    public static IResult Download(byte[] body, string type, string name) => new NamedFile(body, type, name, Inline: false);

    private sealed record NamedFile(byte[] Body, string Type, string Name, bool Inline) : IResult
    {
        public async Task ExecuteAsync(HttpContext httpContext)
        {
            HttpResponse response = httpContext.Response;
            response.ContentType = Type;
            response.Headers.ContentDisposition = $"{(Inline ? "inline" : "attachment")}; filename=\"{Name}\"";
            response.ContentLength = Body.Length;
            await response.Body.WriteAsync(Body, httpContext.RequestAborted);
        }
    }
}
