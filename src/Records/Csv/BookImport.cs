using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Csv;

/// <summary>A row of an import as it would be saved.</summary>
/// <typeparam name="T">What it becomes.</typeparam>
/// <param name="Line">Its line in the file.</param>
/// <param name="Form">What would be saved.</param>
/// <param name="Problems">Why it cannot be; empty where it can.</param>
/// <param name="AlreadyThere">The row of the book that it seems to be; such a row is left out.</param>
public sealed record ImportRow<T>(int Line, T Form, IReadOnlyList<FieldProblem> Problems, long? AlreadyThere);

/// <summary>An import before anything is saved.</summary>
/// <typeparam name="T">What rows become.</typeparam>
/// <param name="Header">The file's columns.</param>
/// <param name="Columns">Which column was taken for which field.</param>
/// <param name="Rows">All rows.</param>
public sealed record ImportPreview<T>(IReadOnlyList<string> Header, IReadOnlyDictionary<string, int> Columns, IReadOnlyList<ImportRow<T>> Rows)
{
    /// <summary>How many rows would be saved.</summary>
    public int New => Rows.Count(r => r.Problems.Count == 0 && r.AlreadyThere is null);

    /// <summary>True where no row has a problem.</summary>
    public bool CanBeAccepted => Rows.All(r => r.Problems.Count == 0);
}

/// <summary>Takes owners and pieces from a table. A preview reads; only accepting saves: all rows, or none.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="owners">Adds owners.</param>
/// <param name="pieces">Adds pieces.</param>
public sealed class BookImport(IDbContextFactory<BookContext> books, OwnerDesk owners, PieceDesk pieces)
{
    /// <summary>More rows than this are refused at once. Chosen, not derived.</summary>
    public const int MostRows = 20_000;

    /// <summary>Fields of an owner, with the column names that are taken for them.</summary>
    public static IReadOnlyDictionary<string, string[]> OwnerFields { get; } = new Dictionary<string, string[]>(StringComparer.Ordinal)
    {
        [nameof(OwnerForm.Name)] = ["name", "owner", "customer", "full name"],
        [nameof(OwnerForm.Phone)] = ["phone", "telephone", "mobile", "tel"],
        [nameof(OwnerForm.Email)] = ["email", "e mail", "mail"],
        [nameof(OwnerForm.Address)] = ["address", "street"],
        [nameof(OwnerForm.Note)] = ["note", "notes", "remark", "remarks"],
        [nameof(OwnerForm.IsAccount)] = ["is account", "account", "isaccount"],
    };

    /// <summary>Fields of a piece, with the column names that are taken for them.</summary>
    public static IReadOnlyDictionary<string, string[]> PieceFields { get; } = new Dictionary<string, string[]>(StringComparer.Ordinal)
    {
        [nameof(PieceForm.OwnerId)] = ["owner", "owner name", "customer"],
        [nameof(PieceForm.Name)] = ["name", "piece", "item", "description"],
        [nameof(PieceForm.Kind)] = ["kind", "type"],
        [nameof(PieceForm.LengthMm)] = ["length mm", "length", "lengthmm"],
        [nameof(PieceForm.Hand)] = ["hand"],
        [nameof(PieceForm.Steel)] = ["steel"],
        [nameof(PieceForm.Slot)] = ["slot", "number", "no"],
        [nameof(PieceForm.Note)] = ["note", "notes", "remark", "remarks"],
    };

    /// <summary>Which column is likely which field, by name.</summary>
    public static IReadOnlyDictionary<string, int> Match(IReadOnlyList<string> header, IReadOnlyDictionary<string, string[]> fields)
    {
        string[] folded = [.. header.Select(h => Folded.Of(h))];
        Dictionary<string, int> columns = [];
        foreach ((string field, string[] names) in fields)
        {
            int at = Array.FindIndex(folded, h => names.Contains(h, StringComparer.Ordinal));
            if (at >= 0 && !columns.ContainsValue(at))
                columns[field] = at;
        }

        return columns;
    }

    /// <summary>What an import of owners would do.</summary>
    /// <param name="csv">The file's text.</param>
    /// <param name="columns">Column by field; null to match by name.</param>
    /// <param name="cancel">Gives up.</param>
    /// <exception cref="FormatException">The text is no table, or too long.</exception>
    public async Task<ImportPreview<OwnerForm>> PreviewOwnersAsync(string csv, IReadOnlyDictionary<string, int>? columns = null, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await OwnersAsync(db, csv, columns, cancel);
    }

    /// <summary>What an import of pieces would do.</summary>
    /// <param name="csv">The file's text.</param>
    /// <param name="columns">Column by field; null to match by name.</param>
    /// <param name="cancel">Gives up.</param>
    /// <exception cref="FormatException">The text is no table, or too long.</exception>
    public async Task<ImportPreview<PieceForm>> PreviewPiecesAsync(string csv, IReadOnlyDictionary<string, int>? columns = null, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await PiecesAsync(db, csv, columns, cancel);
    }

    /// <summary>Saves the owners of an import that are new; refused whole where a row has a problem. Returns how many.</summary>
    public async Task<SaveOutcome<int>> AcceptOwnersAsync(BookContext db, string csv, IReadOnlyDictionary<string, int>? columns, CancellationToken cancel = default) =>
        await SaveAsync(await OwnersAsync(db, csv, columns, cancel), form => owners.AddAsync(db, form, cancel));

    /// <summary>Saves the pieces of an import that are new; refused whole where a row has a problem. Returns how many.</summary>
    public async Task<SaveOutcome<int>> AcceptPiecesAsync(BookContext db, string csv, IReadOnlyDictionary<string, int>? columns, CancellationToken cancel = default) =>
        await SaveAsync(await PiecesAsync(db, csv, columns, cancel), form => pieces.AddAsync(db, form, cancel));

    private static async Task<SaveOutcome<int>> SaveAsync<TForm, TRow>(ImportPreview<TForm> preview, Func<TForm, Task<SaveOutcome<TRow>>> add)
    {
        if (!preview.CanBeAccepted)
            return new SaveOutcome<int>.Refused([.. preview.Rows.SelectMany(r => r.Problems.Select(p => At(r.Line, p)))]);
        int saved = 0;
        foreach (ImportRow<TForm> row in preview.Rows.Where(r => r.AlreadyThere is null))
        {
            if (await add(row.Form) is SaveOutcome<TRow>.Refused refused)
                return new SaveOutcome<int>.Refused([.. refused.Problems.Select(p => At(row.Line, p))]);
            saved++;
        }

        return new SaveOutcome<int>.Saved(saved);
    }

    private static async Task<ImportPreview<OwnerForm>> OwnersAsync(BookContext db, string csv, IReadOnlyDictionary<string, int>? columns, CancellationToken cancel)
    {
        (CsvTable table, IReadOnlyDictionary<string, int> match) = Table(csv, columns, OwnerFields);
        ILookup<string, long> known = (await db.Owners.Select(o => new { o.Id, o.SearchText }).ToListAsync(cancel)).ToLookup(o => o.SearchText, o => o.Id, StringComparer.Ordinal);
        HashSet<string> seen = [];
        List<ImportRow<OwnerForm>> rows = [];
        foreach (CsvRow row in table.Rows)
        {
            string Cell(string field) => row.Cell(match.TryGetValue(field, out int c) ? c : null);
            string account = Cell(nameof(OwnerForm.IsAccount));
            OwnerForm form = new()
            {
                Name = Trimmed.Of(Cell(nameof(OwnerForm.Name))),
                Phone = Trimmed.Of(Cell(nameof(OwnerForm.Phone))),
                Email = Trimmed.Of(Cell(nameof(OwnerForm.Email))),
                Address = Trimmed.Of(Cell(nameof(OwnerForm.Address))),
                Note = Trimmed.Of(Cell(nameof(OwnerForm.Note))),
                IsAccount = IsYes(account),
            };
            List<FieldProblem> problems = [.. form.Problems()];
            if (account.Length > 0 && !IsYes(account) && !IsNo(account))
                problems.Add(new FieldProblem(nameof(OwnerForm.IsAccount), account, "yes or no would be right"));
            string key = Folded.Of(form.Name, form.Phone, form.Email);
            if (problems.Count == 0 && !seen.Add(key))
                problems.Add(new FieldProblem(nameof(OwnerForm.Name), form.Name, "each owner once in the file would be right"));
            rows.Add(new ImportRow<OwnerForm>(row.Line, form, problems, known[key].Select(id => (long?)id).FirstOrDefault()));
        }

        return new ImportPreview<OwnerForm>(table.Header, match, rows);
    }

    private static async Task<ImportPreview<PieceForm>> PiecesAsync(BookContext db, string csv, IReadOnlyDictionary<string, int>? columns, CancellationToken cancel)
    {
        (CsvTable table, IReadOnlyDictionary<string, int> match) = Table(csv, columns, PieceFields);
        ILookup<string, long> ownersByName = (await db.Owners.Select(o => new { o.Id, o.Name }).ToListAsync(cancel)).ToLookup(o => Folded.Of(o.Name), o => o.Id, StringComparer.Ordinal);
        Dictionary<(long, string, PieceKind, double?, string?), long> known = (await db.Pieces.Select(p => new { p.Id, p.OwnerId, p.Name, p.Kind, p.LengthMm, p.Slot }).ToListAsync(cancel))
            .GroupBy(p => (p.OwnerId, p.Name, p.Kind, p.LengthMm, p.Slot)).ToDictionary(g => g.Key, g => g.First().Id);
        List<ImportRow<PieceForm>> rows = [];
        foreach (CsvRow row in table.Rows)
        {
            string Cell(string field) => row.Cell(match.TryGetValue(field, out int c) ? c : null);
            List<FieldProblem> problems = [];
            string owner = Cell(nameof(PieceForm.OwnerId)), kindText = Cell(nameof(PieceForm.Kind)), lengthText = Cell(nameof(PieceForm.LengthMm));
            long[] whose = [.. ownersByName[Folded.Of(owner)]];
            if (whose.Length != 1)
                problems.Add(new FieldProblem("Owner", owner, whose.Length == 0 ? "the name of an owner in the book would be right; import owners first" : "a name that only one owner has would be right"));
            PieceKind? kind = kindText.Length == 0 ? PieceKind.DoubleBevel : PieceKinds.FromKey(Folded.Of(kindText).Replace(' ', '-'));
            if (kind is null)
                problems.Add(new FieldProblem(nameof(PieceForm.Kind), kindText, $"one of {string.Join(", ", PieceKinds.All.Select(k => k.Key()))} would be right"));
            double? length = null;
            if (lengthText.Length > 0)
            {
                Typed<Length> typed = Length.Parse(lengthText);
                if (typed is Typed<Length>.Value value)
                    length = value.Of.Millimetres;
                else
                    problems.Add(new FieldProblem(nameof(PieceForm.LengthMm), lengthText, "a length such as 210 or 210,5 would be right, in mm"));
            }

            PieceForm form = new()
            {
                OwnerId = whose.Length == 1 ? whose[0] : 0,
                Kind = kind ?? PieceKind.DoubleBevel,
                Name = Trimmed.Of(Cell(nameof(PieceForm.Name))),
                LengthMm = length,
                Hand = Trimmed.Of(Cell(nameof(PieceForm.Hand)))?.ToLowerInvariant(),
                Steel = Trimmed.Of(Cell(nameof(PieceForm.Steel))),
                Slot = Trimmed.Of(Cell(nameof(PieceForm.Slot))),
                Note = Trimmed.Of(Cell(nameof(PieceForm.Note))),
            };
            problems.AddRange(form.Problems());
            long? there = form.Slot is not null && form.Name is not null && known.TryGetValue((form.OwnerId, form.Name, form.Kind, form.LengthMm, form.Slot), out long id) ? id : null;
            rows.Add(new ImportRow<PieceForm>(row.Line, form, problems, there));
        }

        return new ImportPreview<PieceForm>(table.Header, match, rows);
    }

    private static (CsvTable Table, IReadOnlyDictionary<string, int> Columns) Table(string csv, IReadOnlyDictionary<string, int>? columns, IReadOnlyDictionary<string, string[]> fields)
    {
        CsvTable table = CsvText.Read(csv);
        if (table.Header.Count == 0)
            throw new FormatException("The file is empty: a first line with the names of the columns would be right.");
        if (table.Rows.Count > MostRows)
            throw new FormatException(string.Create(CultureInfo.InvariantCulture, $"The file has {table.Rows.Count} rows: at most {MostRows} at a time would be right."));
        return (table, columns ?? Match(table.Header, fields));
    }

    private static FieldProblem At(int line, FieldProblem problem) => problem with { Field = string.Create(CultureInfo.InvariantCulture, $"Line {line}, {problem.Field}") };

    private static bool IsYes(string text) => Folded.Of(text) is "yes" or "true" or "1" or "x";

    private static bool IsNo(string text) => Folded.Of(text) is "no" or "false" or "0";
}
