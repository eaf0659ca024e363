using Microsoft.AspNetCore.Http;
using Whetwright.Records.Csv;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Book.Importing;

/// <summary>One row as it would be saved.</summary>
/// <param name="Line">Its line in the file.</param>
/// <param name="Says">What it would become, in words.</param>
/// <param name="Problems">Why it cannot be.</param>
/// <param name="Known">It seems to be in the book: left out.</param>
public sealed record ImportLine(int Line, string Says, IReadOnlyList<string> Problems, bool Known);

/// <summary>A table looked through.</summary>
/// <param name="Token">Leads to it.</param>
/// <param name="File">Its name.</param>
/// <param name="Pieces">Pieces, else owners.</param>
/// <param name="Form">Which column is which field.</param>
/// <param name="Rows">All rows.</param>
/// <param name="Header">The file's columns.</param>
public sealed record ImportModel(string Token, string File, bool Pieces, ColumnsForm Form, IReadOnlyList<ImportLine> Rows, IReadOnlyList<string> Header)
{
    /// <summary>Rows shown of each sort.</summary>
    public const int Most = 40;

    /// <summary>How many would be saved.</summary>
    public int New => Rows.Count(r => r.Problems.Count == 0 && !r.Known);

    /// <summary>How many have a problem.</summary>
    public int Wrong => Rows.Count(r => r.Problems.Count > 0);

    /// <summary>Address of the preview.</summary>
    public string Address => "/book/import/" + Token;

    /// <summary>Owners or pieces, counted.</summary>
    public string Counted(int count) => Pieces ? BookWords.Count(count, "piece") : BookWords.Count(count, "owner");
}

/// <summary>Brings owners and pieces in from a table: sent, looked through, columns matched, accepted whole or not at all.</summary>
internal static class Import
{
    public static IResult ShowAsync() => Of(new ImportForm());

    public static async Task<IResult> LoadAsync(HttpContext http, BookImport import, ImportShelf shelf, CancellationToken cancel)
    {
        ImportForm form = new();
        if (!await form.ReadAsync(http))
            return Of(form);
        bool pieces = form.What.Value == "pieces";
        try
        {
            // Looked through once before it is kept, so that what is no table is told beside its field.
            _ = pieces ? (object)await import.PreviewPiecesAsync(form.File.Text!, null, cancel) : await import.PreviewOwnersAsync(form.File.Text!, null, cancel);
        }
        catch (FormatException e)
        {
            form.File.Refuse(e.Message);
            return Of(form);
        }

        return Page.SeeOther("/book/import/" + shelf.Put(form.File.Text!, form.File.Typed, pieces));
    }

    public static async Task<IResult> PreviewAsync(string token, BookImport import, ImportShelf shelf, CancellationToken cancel) =>
        shelf.Find(token) is { } table ? await LookAsync(token, table, null, import, cancel) : Gone();

    public static async Task<IResult> DecideAsync(string token, HttpContext http, BookImport import, BookWriter writer, ImportShelf shelf, CancellationToken cancel)
    {
        if (shelf.Find(token) is not { } table)
            return Gone();
        IReadOnlyList<string> header = CsvText.Read(table.Text).Header;
        ColumnsForm form = new(header, Fields(table).Keys, new Dictionary<string, int>(StringComparer.Ordinal));
        bool right = await form.ReadAsync(http);
        string what = http.Request.Form["what"].ToString();
        if (!right || what != "accept")
            return await LookAsync(token, table, form, import, cancel);
        IReadOnlyDictionary<string, int> columns = form.Chosen();
        Submitted<int> saved = await writer.SubmitAsync(
            form.Once, db => table.Pieces ? import.AcceptPiecesAsync(db, table.Text, columns, cancel) : import.AcceptOwnersAsync(db, table.Text, columns, cancel),
            count => FormattableString.Invariant($"/book/import?brought={count}"), cancel);
        switch (saved)
        {
            case Submitted<int>.Done done:
                shelf.Drop(token);
                string count = done.LedTo[(done.LedTo.IndexOf('=', StringComparison.Ordinal) + 1)..];
                return Page.SeeOther("/book", $"{count} {(table.Pieces ? "pieces" : "owners")} brought in.");
            case Submitted<int>.Refused refused:
                form.Refuse(refused.Problems.Take(10));
                break;
        }

        return await LookAsync(token, table, form, import, cancel);
    }

    private static IReadOnlyDictionary<string, string[]> Fields(WaitingTable table) => table.Pieces ? BookImport.PieceFields : BookImport.OwnerFields;

    private static async Task<IResult> LookAsync(string token, WaitingTable table, ColumnsForm? form, BookImport import, CancellationToken cancel)
    {
        IReadOnlyDictionary<string, int>? columns = form?.Chosen();
        IReadOnlyList<ImportLine> lines;
        IReadOnlyList<string> header;
        if (table.Pieces)
        {
            ImportPreview<PieceForm> preview = await import.PreviewPiecesAsync(table.Text, columns, cancel);
            lines = [.. preview.Rows.Select(r => Line(r, Says(r.Form)))];
            (header, columns) = (preview.Header, preview.Columns);
        }
        else
        {
            ImportPreview<OwnerForm> preview = await import.PreviewOwnersAsync(table.Text, columns, cancel);
            lines = [.. preview.Rows.Select(r => Line(r, Says(r.Form)))];
            (header, columns) = (preview.Header, preview.Columns);
        }

        ImportModel model = new(token, table.FileName, table.Pieces, form ?? new ColumnsForm(header, Fields(table).Keys, columns), lines, header);
        return Page.Of<ImportPreviewPage>("Look it through", model, Room.Book, model.Form.Status);
    }

    private static ImportLine Line<T>(ImportRow<T> row, string says) => new(row.Line, says, [.. row.Problems.Select(Problem)], row.AlreadyThere is not null);

    private static string Problem(FieldProblem p) =>
        string.IsNullOrEmpty(p.Value) ? $"{ColumnsForm.Word(p.Field)} is empty: {p.Right}" : $"{ColumnsForm.Word(p.Field)} is “{p.Value}”: {p.Right}";

    private static string Says(OwnerForm f) => Join(f.Name, f.Phone, f.Email, f.Address?.ReplaceLineEndings(", "), f.IsAccount ? "account" : null, f.Note);

    private static string Says(PieceForm f) => Join(
        f.Name ?? BookWords.Kind(f.Kind), f.Name is null ? null : BookWords.Kind(f.Kind), f.LengthMm is { } mm ? FormattableString.Invariant($"{mm:0.#} mm") : null, f.Hand, f.Steel,
        f.Slot is null ? null : "no. " + f.Slot, f.Note);

    private static string Join(params string?[] parts) => string.Join(", ", parts.Where(p => !string.IsNullOrWhiteSpace(p)));

    private static IResult Gone() => Page.NotFound("This table is no longer waiting: it was accepted, or it waited for more than an hour. Send the file again; nothing of it was saved in between.");

    private static IResult Of(ImportForm form) => Page.Of<ImportPage>("Bring in", form, Room.Book, form.Status);
}
