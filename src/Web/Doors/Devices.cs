using Microsoft.AspNetCore.Http;
using Whetwright.Web.Layout;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Doors;

/// <summary>A device to let in.</summary>
public sealed class LetInForm : WebForm
{
    internal LetInForm()
    {
        Name = Add(new TextField("name", "What to call the device") { Required = true, MaxLength = 40, Hint = "The bench tablet, the counter's phone. It stands beside what is entered on it." });
        Role = Add(new ChoiceField("role", "It may", [new("Helper", "Help", "counter, rack, bench; no takings, no prices"), new("Master", "Run the shop", "everything")]) { Required = true }).Fill("Helper");
    }

    /// <summary>Its name.</summary>
    public TextField Name { get; }

    /// <summary>What it may do.</summary>
    public ChoiceField Role { get; }
}

/// <summary>A new passphrase.</summary>
public sealed class NewPassphraseForm : WebForm
{
    internal NewPassphraseForm(bool has)
    {
        Old = has ? Add(new SecretField("old", "The passphrase so far") { Required = true, AutoComplete = "current-password" }) : null;
        New = Add(new SecretField("new", "New passphrase") { Required = true, AutoComplete = "new-password", Hint = $"At least {DoorLimits.ShortestPassphrase} characters: four or five words that do not belong together." });
        Again = Add(new SecretField("again", "The same again") { Required = true, AutoComplete = "new-password" });
    }

    /// <summary>The old one; null where there is none.</summary>
    public SecretField? Old { get; }

    /// <summary>The new one.</summary>
    public SecretField New { get; }

    /// <summary>Once more.</summary>
    public SecretField Again { get; }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (New.Secret != Again.Secret)
            Again.Refuse("is not the same; type both anew");
        else if (Doors.Passphrase.Problem(New.Secret) is { } problem)
            New.Refuse(problem);
    }
}

/// <summary>A program to let in.</summary>
public sealed class TokenForm : WebForm
{
    internal TokenForm() => Program = Add(new TextField("program", "What to call the program") { Required = true, MaxLength = 40, Hint = "The bench goniometer. It may use /api/v1 and nothing else." });

    /// <summary>Its name.</summary>
    public TextField Program { get; }
}

/// <summary>The page of devices.</summary>
/// <param name="AsksWho">The shop asks who somebody is.</param>
/// <param name="HasPassphrase">One is set.</param>
/// <param name="Devices">Newest first.</param>
/// <param name="Now">The time.</param>
/// <param name="Limits">How patient.</param>
/// <param name="LetIn">A device to let in.</param>
/// <param name="Passphrase">A new passphrase.</param>
/// <param name="Token">A program to let in.</param>
/// <param name="MadeToken">The token just made, shown once.</param>
public sealed record DevicesModel(
    bool AsksWho, bool HasPassphrase, IReadOnlyList<SignedIn> Devices, DateTimeOffset Now, DoorLimits Limits, LetInForm LetIn, NewPassphraseForm Passphrase, TokenForm Token, string? MadeToken)
{
    /// <summary>Status of the page.</summary>
    public int Status => Math.Max(LetIn.Status, Math.Max(Passphrase.Status, Token.Status));
}

/// <summary>The code to type on the new device.</summary>
/// <param name="Code">The code; null where none is open.</param>
/// <param name="Addresses">Where the new device goes.</param>
public sealed record CodeModel(PairCode? Code, IReadOnlyList<string> Addresses);

/// <summary>Who is signed in: let in, send away, the passphrase, tokens for programs.</summary>
internal static class Devices
{
    public static IResult Show(DoorList doors, ServeOptions options, TimeProvider time, DoorLimits limits) => Of(Model(doors, options, time, limits));

    public static async Task<IResult> CodeAsync(HttpContext http, DoorList doors, PairCodes codes, ServeOptions options, TimeProvider time, DoorLimits limits)
    {
        LetInForm form = new();
        if (!await form.ReadAsync(http))
            return Of(Model(doors, options, time, limits) with { LetIn = form });
        codes.Make(form.Name.Value!, form.Role.Value == "Master" ? Role.Master : Role.Helper);
        return Page.SeeOther("/kit/devices/code");
    }

    public static IResult ShowCode(HttpContext http, PairCodes codes, ServeOptions options) =>
        Page.Of<PairCodePage>("Let a device in", new CodeModel(codes.Open, NetworkAddresses.Of(http, options)), Room.Kit);

    public static IResult VoidCode(PairCodes codes)
    {
        codes.Void();
        return Page.SeeOther("/kit/devices", "The code is void.");
    }

    public static async Task<IResult> PassphraseAsync(HttpContext http, DoorList doors, LockOut lockOut, ServeOptions options, TimeProvider time, DoorLimits limits)
    {
        NewPassphraseForm form = new(doors.HasPassphrase);
        bool read = await form.ReadAsync(http);
        if (lockOut.Waits(http.Connection.RemoteIpAddress) is { } wait)
        {
            form.Old?.Refuse($"was wrong too often; try again in {Math.Ceiling(wait.TotalMinutes):0} minutes");
            return Of(Model(doors, options, time, limits) with { Passphrase = form });
        }

        if (read && form.Old is { } old && !doors.IsPassphrase(old.Secret))
        {
            lockOut.Wrong(http.Connection.RemoteIpAddress);
            old.Refuse("is not right; who has lost it sets a new one at the machine: whetwright passphrase");
            read = false;
        }

        if (read && doors.SetPassphrase(form.New.Secret) is { } problem)
        {
            form.New.Refuse(problem);
            read = false;
        }

        return read ? Page.SeeOther("/kit/devices", "The passphrase is set. Who had signed in by the one before is asked again.") : Of(Model(doors, options, time, limits) with { Passphrase = form });
    }

    public static async Task<IResult> TokenAsync(HttpContext http, DoorList doors, ServeOptions options, TimeProvider time, DoorLimits limits)
    {
        TokenForm form = new();
        if (!await form.ReadAsync(http))
            return Of(Model(doors, options, time, limits) with { Token = form });
        string token = doors.MakeToken(form.Program.Value!);
        return Of(Model(doors, options, time, limits) with { MadeToken = token });
    }

    public static IResult Revoke(string id, DoorList doors) =>
        doors.Revoke(id) ? Page.SeeOther("/kit/devices", "Sent away: it is refused from now on.") : Page.NotFound("There is no such device signed in; it may have been sent away before.");

    private static DevicesModel Model(DoorList doors, ServeOptions options, TimeProvider time, DoorLimits limits) =>
        new(options.AsksWho, doors.HasPassphrase, doors.Devices, time.GetUtcNow(), limits, new LetInForm(), new NewPassphraseForm(doors.HasPassphrase), new TokenForm(), null);

    private static IResult Of(DevicesModel model) => Page.Of<DevicesPage>("Devices", model, Room.Kit, model.Status);
}
