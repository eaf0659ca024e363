using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records.Backup;
using Whetwright.Records.Owners;
using Whetwright.Records.Privacy;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Book.Owners;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Book.Privacy;

/// <summary>To take an owner out of the book.</summary>
public sealed class EraseForm : WebForm
{
    internal EraseForm(Owner owner)
    {
        Owner = owner;
        Sure = Add(new FlagField("sure", "Erase them: only a backup made before could bring them back"));
    }

    /// <summary>Whom.</summary>
    public Owner Owner { get; }

    /// <summary>The person is sure.</summary>
    public FlagField Sure { get; }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (!Sure.Value)
            Sure.Refuse("is not ticked; it has to be, since this cannot be undone");
    }
}

/// <summary>What a person may ask: everything about them, or to be taken out; and who has not come for longer than the shop keeps.</summary>
internal static class OwnerPrivacy
{
    public static async Task<IResult> ExportAsync(long id, OwnerExport export, CancellationToken cancel)
    {
        MemoryStream zip = new();
        try
        {
            if (!await export.WriteAsync(id, zip, cancel))
                return OwnerBook.None(id);
        }
        catch (BackupRefusedException e)
        {
            return Page.NotFound($"{e.Message} The doctor says what to do: whetwright doctor.");
        }

        zip.Position = 0;
        return Results.File(zip, "application/zip", string.Create(CultureInfo.InvariantCulture, $"owner-{id}.zip"));
    }

    public static async Task<IResult> ShowAsync(long id, OwnerQuery owners, CancellationToken cancel) =>
        await owners.OneAsync(id, cancel) is { } owner ? Of(new EraseForm(owner)) : OwnerBook.None(id);

    public static async Task<IResult> EraseAsync(long id, HttpContext http, OwnerQuery owners, OwnerErasure erasure, CancellationToken cancel)
    {
        if (await owners.OneAsync(id, cancel) is not { } owner)
            return OwnerBook.None(id);
        EraseForm form = new(owner);
        if (!await form.ReadAsync(http))
            return Of(form);
        if (await erasure.EraseAsync(form.Once, id, cancel) is SaveOutcome<Erased>.Refused refused)
        {
            form.Refuse(refused.Problems);
            return Of(form);
        }

        return Page.SeeOther(string.Create(CultureInfo.InvariantCulture, $"/book/owners/{id}"), "Erased. Backups made before still hold them: keep only as many as you need.");
    }

    public static async Task<IResult> DueAsync(Retention retention, CancellationToken cancel) =>
        Page.Of<DuePage>("No longer coming", await retention.DueAsync(cancel), Room.Book);

    private static IResult Of(EraseForm form) => Page.Of<ErasePage>("Erase " + form.Owner.Name, form, Room.Book, form.Status);
}
