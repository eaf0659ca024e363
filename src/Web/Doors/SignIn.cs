using System.Globalization;
using System.Net;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Doors;

/// <summary>The code of a new device.</summary>
public sealed class CodeForm : WebForm
{
    internal CodeForm() => Code = Add(new CodeField("code", "Code on the master's screen") { Required = true, AutoComplete = "one-time-code", Hint = "Six figures. The master finds it under Kit, Devices." });

    /// <summary>The code.</summary>
    public CodeField Code { get; }
}

/// <summary>The passphrase.</summary>
public sealed class PassphraseForm : WebForm
{
    internal PassphraseForm() => Passphrase = Add(new SecretField("passphrase", "The master's passphrase") { Required = true, AutoComplete = "current-password" });

    /// <summary>The passphrase.</summary>
    public SecretField Passphrase { get; }
}

/// <summary>The page where one comes in.</summary>
/// <param name="Code">For a device.</param>
/// <param name="Passphrase">For the master; null where it would cross the network in the clear.</param>
/// <param name="To">Where to go on to.</param>
public sealed record SignInModel(CodeForm Code, PassphraseForm? Passphrase, string To);

/// <summary>Comes in by a code or by the passphrase, and goes out.</summary>
internal static partial class SignIn
{
    public static IResult Show(string? to, HttpContext http, WhoView who, ServeOptions options) =>
        !options.AsksWho || who.Now.Role != Role.Nobody ? Page.SeeOther(Safe(to)) : Of(new CodeForm(), new PassphraseForm(), Safe(to), http);

    public static async Task<IResult> ByCodeAsync(string? to, HttpContext http, PairCodes codes, DoorList doors, ServeOptions options, ILogger<CodeForm> log)
    {
        CodeForm form = new();
        if (!options.AsksWho)
            return Page.SeeOther("/");
        if (!await form.ReadAsync(http))
            return Of(form, new PassphraseForm(), Safe(to), http);
        if (codes.Use(form.Code.Typed) is not { } code)
        {
            WrongCode(log, http.TraceIdentifier);
            form.Code.Refuse("is not the code, or it is used up; a new one from the master's screen would be right");
            return Of(form, new PassphraseForm(), Safe(to), http);
        }

        SignedIn device = doors.LetIn(code.Name, code.Role);
        CameIn(log, device.Id, device.Role, http.TraceIdentifier);
        await http.SignInAsync(Gate.Scheme, Gate.Principal(device.Id), new AuthenticationProperties { IsPersistent = true });
        return Page.SeeOther(Safe(to), $"This device is signed in as {device.Name}.");
    }

    public static async Task<IResult> ByPassphraseAsync(string? to, HttpContext http, DoorList doors, LockOut lockOut, DoorLimits limits, ServeOptions options, ILogger<CodeForm> log)
    {
        PassphraseForm form = new();
        if (!options.AsksWho)
            return Page.SeeOther("/");
        if (!IsPrivate(http))
            return Of(new CodeForm(), null, Safe(to), http, StatusCodes.Status403Forbidden);
        bool read = await form.ReadAsync(http);
        IPAddress? from = http.Connection.RemoteIpAddress;
        if (lockOut.Waits(from) is { } wait)
        {
            http.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
            form.Passphrase.Refuse($"was wrong too often; try again in {Math.Ceiling(wait.TotalMinutes):0} minutes");
            return Of(new CodeForm(), form, Safe(to), http, StatusCodes.Status429TooManyRequests);
        }

        if (!read)
            return Of(new CodeForm(), form, Safe(to), http);
        if (!doors.IsPassphrase(form.Passphrase.Secret))
        {
            lockOut.Wrong(from);
            WrongPassphrase(log, http.TraceIdentifier);
            form.Passphrase.Refuse("is not right; who has lost it sets a new one at the machine: whetwright passphrase");
            return Of(new CodeForm(), form, Safe(to), http);
        }

        lockOut.Right(from);
        SignedIn device = doors.LetIn("master, by passphrase", Role.Master, limits.PassphraseLasts);
        CameIn(log, device.Id, device.Role, http.TraceIdentifier);
        await http.SignInAsync(Gate.Scheme, Gate.Principal(device.Id), new AuthenticationProperties { IsPersistent = false });
        return Page.SeeOther(Safe(to), "Signed in as the master.");
    }

    public static async Task<IResult> OutAsync(HttpContext http, WhoView who, DoorList doors)
    {
        if (who.Now.Id is not { } id)
            return Page.SeeOther("/");
        doors.Revoke(id);
        await http.SignOutAsync(Gate.Scheme);
        return Page.SeeOther(Gate.SignInPath, "Signed out. This device needs a new code to come in again.");
    }

    private static IResult Of(CodeForm code, PassphraseForm passphrase, string to, HttpContext http) =>
        Of(code, passphrase, to, http, code.Wrong ? code.Status : passphrase.Status);

    private static IResult Of(CodeForm code, PassphraseForm? passphrase, string to, HttpContext http, int status) =>
        Page.Of<SignInPage>("Sign in", new SignInModel(code, IsPrivate(http) ? passphrase : null, to), status: status);

    /// <summary>Nobody on the way can read it: HTTPS, or from this machine to itself.</summary>
    private static bool IsPrivate(HttpContext http) => http.Request.IsHttps || (http.Connection.RemoteIpAddress is { } from && IPAddress.IsLoopback(from));

    /// <summary>An address of this shop and of no other.</summary>
    private static string Safe(string? to) =>
        to is { Length: > 0 and < 500 } && to[0] == '/' && !to.StartsWith("//", StringComparison.Ordinal) && !to.Contains('\\', StringComparison.Ordinal)
        && !to.Any(char.IsControl) && !to.StartsWith(Gate.SignInPath, StringComparison.Ordinal) && Uri.TryCreate(to, UriKind.Relative, out _) && to.All(char.IsAscii) ? to : "/";

    [LoggerMessage(Level = LogLevel.Warning, Message = "A wrong pairing code; request {RequestId}")]
    private static partial void WrongCode(ILogger logger, string requestId);

    [LoggerMessage(Level = LogLevel.Warning, Message = "A wrong passphrase; request {RequestId}")]
    private static partial void WrongPassphrase(ILogger logger, string requestId);

    [LoggerMessage(Level = LogLevel.Information, Message = "Device {DeviceId} came in as {Role}; request {RequestId}")]
    private static partial void CameIn(ILogger logger, string deviceId, Role role, string requestId);
}
