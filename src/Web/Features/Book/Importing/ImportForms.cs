using System.Globalization;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Book.Importing;

/// <summary>A table to send.</summary>
public sealed class ImportForm : WebForm
{
    /// <summary>Empty, for owners.</summary>
    public ImportForm()
    {
        What = Add(new ChoiceField("what", "What the rows are", [new("owners", "Owners", "name, phone, mail, address, note, account"), new("pieces", "Pieces", "owner, name, kind, length, hand, steel, slot, note")]) { Required = true }).Fill("owners");
        File = Add(new CsvField("file", "Table") { Required = true, Hint = "CSV in UTF-8 with a first line of column names; comma, semicolon or tab." });
    }

    /// <summary>Owners or pieces.</summary>
    public ChoiceField What { get; }

    /// <summary>The file.</summary>
    public CsvField File { get; }
}

/// <summary>Which column is which field.</summary>
public sealed class ColumnsForm : WebForm
{
    /// <summary>Filled with the columns taken.</summary>
    /// <param name="header">The file's columns.</param>
    /// <param name="fields">Fields in their order.</param>
    /// <param name="taken">Column by field.</param>
    public ColumnsForm(IReadOnlyList<string> header, IEnumerable<string> fields, IReadOnlyDictionary<string, int> taken)
    {
        Choice[] columns = [new("", "leave empty"), .. header.Select((name, i) => new Choice(i.ToString(CultureInfo.InvariantCulture), name.Length > 0 ? name : $"column {i + 1}"))];
        Columns =
        [
            .. fields.Select(f => (f, Add(new ChoiceField("c-" + f, Word(f), columns) { List = true })
                .Fill(taken.TryGetValue(f, out int at) ? at.ToString(CultureInfo.InvariantCulture) : ""))),
        ];
    }

    /// <summary>Fields with the choice of their column.</summary>
    public IReadOnlyList<(string Field, ChoiceField Choice)> Columns { get; }

    /// <summary>Column by field, as chosen.</summary>
    public IReadOnlyDictionary<string, int> Chosen() => Columns.Where(c => !string.IsNullOrEmpty(c.Choice.Value))
        .ToDictionary(c => c.Field, c => int.Parse(c.Choice.Value!, CultureInfo.InvariantCulture), StringComparer.Ordinal);

    /// <summary>A field as people say it.</summary>
    public static string Word(string field) => field switch
    {
        nameof(PieceForm.OwnerId) => "Owner's name",
        nameof(OwnerForm.IsAccount) => "Standing account",
        nameof(PieceForm.LengthMm) => "Length, mm",
        nameof(OwnerForm.Email) => "Mail",
        nameof(OwnerForm.Phone) => "Telephone",
        _ => field,
    };

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        foreach (var twice in Columns.Where(c => !string.IsNullOrEmpty(c.Choice.Value)).GroupBy(c => c.Choice.Value, StringComparer.Ordinal).Where(g => g.Count() > 1))
            twice.Last().Choice.Refuse($"takes “{twice.Last().Choice.Shown}”, which {Word(twice.First().Field)} takes too; a column of its own would be right");
    }
}
