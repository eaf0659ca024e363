using CsCheck;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Csv;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Tests;

public sealed class Tables_of_text : BookTest
{
    [Fact]
    public void What_is_written_is_read_back_whatever_it_is() =>
        Gen.Char[" a,;\"\t\r\n=+-@'é"].Array[0, 8].Select(c => new string(c)).List[2, 4].Sample(
            cells =>
            {
                CsvTable table = CsvText.Read(CsvText.Line(["a", "b", "c", "d"]) + CsvText.Line(cells.Select(CsvText.Neutral)));
                IEnumerable<string> back = table.Rows.SelectMany(r => r.Cells).Select(CsvText.Plain);
                return back.SequenceEqual(cells.Select(c => CsvText.Plain(CsvText.Neutral(c))));
            },
            iter: 3000, seed: "0000KL0s_2R1");

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+49 170")]
    [InlineData("-cmd")]
    [InlineData("@SUM(A1)")]
    [InlineData("\t=1")]
    public void What_a_spreadsheet_would_run_is_neutralised_and_comes_back(string text)
    {
        Assert.Equal('\'', CsvText.Neutral(text)[0]);
        Assert.Equal(text, CsvText.Plain(CsvText.Neutral(text)));
    }

    [Theory]
    [InlineData("name;phone\nAna;1", 2)]
    [InlineData("name\tphone\r\nAna\t1\r\n", 2)]
    [InlineData("\uFEFFname,phone\rAna,1", 2)]
    public void Separators_and_line_ends_of_the_usual_programs_are_read(string text, int columns)
    {
        CsvTable table = CsvText.Read(text);
        Assert.Equal((columns, "name", "Ana"), (table.Header.Count, table.Header[0], Assert.Single(table.Rows).Cells[0]));
    }

    [Fact]
    public void A_quotation_mark_that_never_closes_is_told_with_its_line() =>
        Assert.Contains("Line 2", Assert.Throws<FormatException>(() => CsvText.Read("a,b\n\"x,y\n1,2")).Message, StringComparison.Ordinal);

    [Fact]
    public async Task Everything_is_exported_and_corrected_facts_too()
    {
        await Owner("=HYPERLINK(\"x\")", "+49 170");
        Owner second = await Owner("Payer");
        Money.Payment wrong = await Saved(db => Get<Money.Till>().TakeAsync(db, new Money.PaymentForm { OwnerId = second.Id, AmountMinor = -700, How = "cash" }));
        await Saved(db => Get<Money.Till>().TakeAsync(db, new Money.PaymentForm { OwnerId = second.Id, AmountMinor = 700, How = "cash", CorrectsId = wrong.Id }));
        string folder = Path.Combine(Store.Folder, "out");
        await Get<BookExport>().ToFolderAsync(folder);

        await using BookContext db = Db();
        Assert.Equal(db.Model.GetEntityTypes().Count() - 1, Directory.GetFiles(folder, "*.csv").Length); // the forms' tokens are nobody's history
        CsvTable owners = CsvText.Read(await File.ReadAllTextAsync(Path.Combine(folder, "owners.csv")));
        Assert.Equal("'=HYPERLINK(\"x\")", owners.Rows[0].Cells[owners.Header.ToList().IndexOf("name")]);
        CsvTable payments = CsvText.Read(await File.ReadAllTextAsync(Path.Combine(folder, "payments.csv")));
        Assert.Equal(["-700", "700"], payments.Rows.Select(r => r.Cells[payments.Header.ToList().IndexOf("amountMinor")])); // a number stays a number
    }

    [Fact]
    public async Task A_preview_saves_nothing_and_accepting_saves_all()
    {
        const string csv = "Name;Telephone;Account\nAna Kurz;0170 1;yes\nBo Lang;;no\n";
        ImportPreview<OwnerForm> preview = await Get<BookImport>().PreviewOwnersAsync(csv);
        Assert.Equal((2, true), (preview.New, preview.CanBeAccepted));
        Assert.Empty(await Get<OwnerQuery>().FindAsync(null));

        Assert.Equal(2, await Saved(db => Get<BookImport>().AcceptOwnersAsync(db, csv, preview.Columns)));
        Assert.Equal(["Ana Kurz", "Bo Lang"], (await Get<OwnerQuery>().FindAsync(null)).Select(o => o.Name));
        Assert.Equal(0, (await Get<BookImport>().PreviewOwnersAsync(csv)).New);
    }

    [Fact]
    public async Task One_wrong_row_saves_none_and_names_line_field_value_and_what_would_be_right()
    {
        await Owner("Ana Kurz");
        const string csv = "Owner,Kind,Length (mm),Name\nAna Kurz,chisel,\"25,4\",wide chisel\nAna Kurz,sword,1000,big one\nNobody,chisel,\"1,000\",other\n";
        IReadOnlyList<FieldProblem> problems = await Refused(db => Get<BookImport>().AcceptPiecesAsync(db, csv, null));

        Assert.Equal([("Line 3, Kind", "sword"), ("Line 4, Owner", "Nobody"), ("Line 4, LengthMm", "1,000")], problems.Select(p => (p.Field, p.Value!)));
        await using BookContext db = Db();
        Assert.False(await db.Pieces.AnyAsync());
    }

    [Fact]
    public async Task Columns_can_be_matched_by_hand()
    {
        await Owner("Ana Kurz");
        const string csv = "x,y\nAna Kurz,carving knife\n";
        Dictionary<string, int> columns = new() { ["OwnerId"] = 0, ["Name"] = 1 };
        await Saved(db => Get<BookImport>().AcceptPiecesAsync(db, csv, columns));
        await using BookContext db = Db();
        Pieces.Piece piece = await db.Pieces.SingleAsync();
        Assert.Equal(("carving knife", PieceKind.DoubleBevel), (piece.Name, piece.Kind));
    }
}
