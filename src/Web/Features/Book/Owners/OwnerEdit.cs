using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Book.Owners;

/// <summary>What can be changed of an owner.</summary>
public sealed class OwnerEditForm : WebForm
{
    /// <summary>Filled from the book.</summary>
    public OwnerEditForm(Owner owner)
    {
        Id = owner.Id;
        Was = owner.Name;
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 200 }).Fill(owner.Name);
        Phone = Add(new TextField("phone", "Telephone") { MaxLength = 60, Keyboard = "tel" }).Fill(owner.Phone);
        Email = Add(new TextField("email", "Mail") { MaxLength = 200, Keyboard = "email" }).Fill(owner.Email);
        Address = Add(new TextField("address", "Address") { MaxLength = 1000, Lines = 3 }).Fill(owner.Address);
        Note = Add(new TextField("note", "Note of the shop's own") { MaxLength = 4000, Lines = 3 }).Fill(owner.Note);
        IsAccount = Add(new FlagField("isAccount", "Standing account: pays by monthly statement")).Fill(owner.IsAccount);
        VersionSeen = owner.Version.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>Key.</summary>
    public long Id { get; }

    /// <summary>The name in the book.</summary>
    public string Was { get; }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Telephone.</summary>
    public TextField Phone { get; }

    /// <summary>Mail.</summary>
    public TextField Email { get; }

    /// <summary>Address.</summary>
    public TextField Address { get; }

    /// <summary>Note.</summary>
    public TextField Note { get; }

    /// <summary>Account.</summary>
    public FlagField IsAccount { get; }

    internal OwnerForm Put() => new()
    {
        Name = Name.Value,
        Phone = Phone.Value,
        Email = Email.Value,
        Address = Address.Value,
        Note = Note.Value,
        IsAccount = IsAccount.Value,
    };
}

/// <summary>Changes an owner; a second tab is told.</summary>
internal static class OwnerEdit
{
    public static async Task<IResult> ShowAsync(long id, OwnerQuery owners, CancellationToken cancel) =>
        await owners.OneAsync(id, cancel) is { } owner ? Of(new OwnerEditForm(owner)) : OwnerBook.None(id);

    public static async Task<IResult> SaveAsync(long id, HttpContext http, OwnerQuery owners, BookWriter writer, OwnerDesk desk, CancellationToken cancel)
    {
        if (await owners.OneAsync(id, cancel) is not { } owner)
            return OwnerBook.None(id);
        OwnerEditForm form = new(owner);
        if (!await form.ReadAsync(http))
            return Of(form);
        switch (await writer.SubmitAsync(form.Once, db => desk.EditAsync(db, id, form.SeenVersion, form.Put(), cancel), _ => FormattableString.Invariant($"/book/owners/{id}"), cancel))
        {
            case Submitted<Owner>.Done done:
                return Page.SeeOther(done.LedTo, "Saved.");
            case Submitted<Owner>.Conflict conflict:
                form.Meet(new OwnerEditForm(conflict.Theirs), conflict.Theirs.Version);
                break;
            case Submitted<Owner>.Refused refused:
                form.Refuse(refused.Problems);
                break;
        }

        return Of(form);
    }

    private static IResult Of(OwnerEditForm form) => Page.Of<OwnerEditPage>("Change " + form.Was, form, Room.Book, form.Status);
}
