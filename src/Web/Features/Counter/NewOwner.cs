using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Counter;

/// <summary>A new owner: a name is enough.</summary>
public sealed class NewOwnerForm : WebForm
{
    /// <summary>Empty, or with what was searched for.</summary>
    public NewOwnerForm(string? typed = null)
    {
        Name = Add(new TextField("name", "Name") { Required = true, AutoComplete = "off" });
        Phone = Add(new TextField("phone", "Phone") { Keyboard = "tel", MaxLength = 60 });
        Email = Add(new TextField("email", "Mail") { Keyboard = "email" });
        Note = Add(new TextField("note", "To remember") { Lines = 2, MaxLength = 4000 });
        Account = Add(new FlagField("isAccount", "Pays by monthly statement (a kitchen, a shop)"));
        bool number = typed is not null && typed.Any(char.IsDigit) && typed.All(c => char.IsDigit(c) || " +-/().".Contains(c, StringComparison.Ordinal));
        (number ? Phone : Name).Fill(typed);
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Telephone.</summary>
    public TextField Phone { get; }

    /// <summary>Mail.</summary>
    public TextField Email { get; }

    /// <summary>Note.</summary>
    public TextField Note { get; }

    /// <summary>Standing account.</summary>
    public FlagField Account { get; }
}

/// <summary>Adds an owner and goes on to take in.</summary>
internal static class NewOwner
{
    public static IResult Show(string? name) => Of(new NewOwnerForm(name));

    public static async Task<IResult> SaveAsync(HttpContext http, BookWriter writer, OwnerDesk desk, CancellationToken cancel)
    {
        NewOwnerForm form = new();
        if (!await form.ReadAsync(http))
            return Of(form);
        OwnerForm typed = new() { Name = form.Name.Value, Phone = form.Phone.Value, Email = form.Email.Value, Note = form.Note.Value, IsAccount = form.Account.Value };
        switch (await writer.SubmitAsync(form.Once, db => desk.AddAsync(db, typed, cancel), o => string.Create(CultureInfo.InvariantCulture, $"/counter/in/{o.Id}"), cancel))
        {
            case Submitted<Owner>.Done done:
                return Page.SeeOther(done.LedTo);
            case Submitted<Owner>.Refused refused:
                form.Refuse(refused.Problems);
                return Of(form);
            default:
                throw new InvalidOperationException("A new row meets no other version.");
        }
    }

    private static IResult Of(NewOwnerForm form) => Page.Of<NewOwnerPage>("New owner", form, Room.Counter, form.Status);
}
