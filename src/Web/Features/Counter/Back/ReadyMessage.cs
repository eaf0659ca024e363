using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Saving;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Back;

/// <summary>The opening words of a message.</summary>
public sealed class ReadyForm : WebForm
{
    /// <summary>With the usual words.</summary>
    public ReadyForm(string usual)
    {
        Opening = Add(new TextField("opening", "Opening words") { Lines = 2, MaxLength = 400 }).Fill(usual);
        Told = Add(new ChoiceField("told", "How they were told", [new("sms", "By SMS"), new("mail", "By mail"), new("phone", "By phone"), new("spoken", "In person")])).Fill("sms");
    }

    /// <summary>Opening words.</summary>
    public TextField Opening { get; }

    /// <summary>How they were told.</summary>
    public ChoiceField Told { get; }
}

/// <summary>The message that it is ready.</summary>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="Phone">Telephone.</param>
/// <param name="Email">Mail.</param>
/// <param name="Ready">Pieces that are ready.</param>
/// <param name="NotReady">Pieces that are here and not ready.</param>
/// <param name="DueMinor">Due for the ready ones.</param>
/// <param name="Text">The message.</param>
/// <param name="Sms">Address of the SMS; null without a number.</param>
/// <param name="Mail">Address of the mail; null without one.</param>
/// <param name="Form">Opening words.</param>
public sealed record ReadyModel(
    long OwnerId, string OwnerName, string? Phone, string? Email, IReadOnlyList<PieceHere> Ready, int NotReady, long DueMinor, string Text, string? Sms, string? Mail, ReadyForm Form);

/// <summary>Writes the message and notes that they were told.</summary>
internal static class ReadyMessage
{
    public static async Task<IResult> ShowAsync(
        long ownerId, IDbContextFactory<BookContext> books, StandingQuery standings, AccountQuery accounts, BookClock clock, UnitsView units, ShopView shop, CancellationToken cancel) =>
        await BackGround.ReadAsync(ownerId, books, standings, accounts, clock, cancel) is { } ground
            ? Of(await ModelAsync(ground, new(Usual(ground)), accounts, units, shop, cancel))
            : Nobody();

    public static async Task<IResult> SaveAsync(
        long ownerId, HttpContext http, IDbContextFactory<BookContext> books, StandingQuery standings, AccountQuery accounts, BookClock clock, BookWriter writer, BenchLog log,
        UnitsView units, ShopView shop, CancellationToken cancel)
    {
        if (await BackGround.ReadAsync(ownerId, books, standings, accounts, clock, cancel) is not { } ground)
            return Nobody();
        ReadyForm form = new(Usual(ground));
        bool right = await form.ReadAsync(http);
        ReadyModel model = await ModelAsync(ground, form, accounts, units, shop, cancel);
        if (right && model.Ready.Count == 0)
            form.Refuse("No piece of theirs is ready; finish one at the bench first");
        if (form.Wrong || !right)
            return Of(model);
        DateTime now = clock.Now();
        Submitted<string> saved = await writer.SubmitAsync<string>(form.Once, async db =>
        {
            foreach (PieceHere piece in model.Ready)
            {
                ReadyNotice notice = new() { VisitId = piece.Visit.Id, HappenedAt = now, EnteredAt = now, How = form.Told.Value ?? "sms" };
                if (await log.AddAsync(db, notice, cancel: cancel) is SaveOutcome<ReadyNotice>.Refused refused)
                    return new SaveOutcome<string>.Refused(refused.Problems);
            }

            return new SaveOutcome<string>.Saved(HandingBack.Address(ownerId));
        }, a => a, cancel);
        if (saved is Submitted<string>.Done done)
            return Page.SeeOther(done.LedTo, $"Noted: {ground.Owner.Name} was told ({form.Told.Shown.ToLowerInvariant()}).");
        if (saved is Submitted<string>.Refused r)
            form.Refuse(r.Problems);
        return Of(model);
    }

    /// <summary>An SMS with the text ready ([rfc5724]).</summary>
    internal static string SmsTo(string phone, string text) =>
        "sms:" + string.Concat(phone.Where((c, i) => char.IsAsciiDigit(c) || (c == '+' && i == 0))) + "?body=" + Uri.EscapeDataString(text);

    /// <summary>A mail with subject and text ready ([rfc6068]).</summary>
    internal static string MailTo(string email, string subject, string text) =>
        "mailto:" + Uri.EscapeDataString(email).Replace("%40", "@", StringComparison.Ordinal) + "?subject=" + Uri.EscapeDataString(subject)
        + "&body=" + Uri.EscapeDataString(text.Replace("\n", "\r\n", StringComparison.Ordinal));

    private static string Usual(BackGround ground) => $"Hello {ground.Owner.Name},";

    private static async Task<ReadyModel> ModelAsync(BackGround ground, ReadyForm form, AccountQuery accounts, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        List<PieceHere> ready = [.. ground.Pieces.Where(p => p.IsReady)];
        long due = ready.Count == 0 ? 0 : await accounts.DueAsync([.. ready.Select(p => p.Visit.Id)], cancel);
        if (!ground.Owner.IsAccount)
            due += ground.EarlierMinor;
        StringBuilder text = new();
        if (form.Opening.Value is { } opening)
            text.Append(opening.Replace("\r", "", StringComparison.Ordinal)).Append('\n');
        text.Append(ready.Count == 1 ? "your piece is ready:\n" : "your pieces are ready:\n");
        foreach (PieceHere piece in ready)
            text.Append(CultureInfo.InvariantCulture, $"- {piece.Visit.Piece!.Name} ({piece.Tag})\n");
        if (ground.Owner.IsAccount)
            text.Append("It goes on your account.\n");
        else if (due > 0)
            text.Append("Due: ").Append(units.Amount(due)).Append('\n');
        if (ground.Pieces.Count > ready.Count)
            text.Append(ground.Pieces.Count - ready.Count == 1 ? "The other is still in work.\n" : "The others are still in work.\n");
        text.Append(shop.Name);
        string words = text.ToString();
        return new(
            ground.Owner.Id, ground.Owner.Name, ground.Owner.Phone, ground.Owner.Email, ready, ground.Pieces.Count - ready.Count, due, words,
            ready.Count > 0 && ground.Owner.Phone is { } phone ? SmsTo(phone, words) : null,
            ready.Count > 0 && ground.Owner.Email is { } mail ? MailTo(mail, $"{shop.Name}: ready", words) : null,
            form);
    }

    private static IResult Nobody() => Page.NotFound("There is no such owner in the book; look for the name at the counter.");

    private static IResult Of(ReadyModel model) => Page.Of<ReadyPage>($"Tell {model.OwnerName}", model, Room.Counter, model.Form.Status);
}
