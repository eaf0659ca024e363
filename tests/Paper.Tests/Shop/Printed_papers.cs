using System.Globalization;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Shop;

namespace Whetwright.Paper.Tests.Shop;

/// <summary>Receipts, edge notes, statements and blank forms.</summary>
public sealed class Printed_papers
{
    public static TheoryData<string> Formats => [.. PaperFormat.All.Select(f => f.Name)];

    [Fact]
    public void A_receipt_says_what_was_taken_in_and_what_it_costs_in_the_persons_culture()
    {
        using var page = new PrintedPage(PdfWriter.Write(ReceiptPaper.Draw(ShopSamples.Receipt(), PaperFormat.A5, ShopSamples.German)));

        string text = page.Text().Replace('\u00a0', ' ');

        string[] said =
        [
            "R-2026-0412", "25.11.2026", "Bistro Łódź", "1047-3", "1048-4", "12,00 €", "chip 1.2 mm deep", "regrinding the primary bevel", "keep the angle it has",
            "49,50 €", "VAT 19 % in 16,50 €", "2,63 €", "VAT 7 % in 33,00 €", "2,16 €", "Deposit, cash", "−20,00 €", "29,50 €", "Ready by Fr 27.11.2026", "ninety days",
            "Invented example", "Damage and conditions acknowledged",
        ];
        Assert.All(said, s => Assert.Contains(s, text, StringComparison.Ordinal));
        Assert.All(page.Fonts().Split('\n')[2..].Where(l => l.Length > 0), l => Assert.Matches(@"\syes\s+(yes|no)\s+yes\s", l)); // embedded, with Unicode map
    }

    [Theory]
    [MemberData(nameof(Formats))]
    public void Nothing_passes_the_paper_or_lies_over_another_text(string format)
    {
        PaperFormat paper = PaperFormat.Named(format);
        PageChecks.Clean(ReceiptPaper.Draw(ShopSamples.Receipt(11), paper, ShopSamples.German));
        PageChecks.Clean(EdgeNotePaper.Draw(ShopSamples.Note(), paper, ShopSamples.English));
        if (paper.HeightMm is not null)
        {
            PageChecks.Clean(StatementPaper.Draw(ShopSamples.Statement(70), paper, ShopSamples.German));
            PageChecks.Clean(ReceiptForms.Draw(["B-0001"], ShopSamples.Shop, paper));
        }
    }

    [Theory]
    [MemberData(nameof(Formats))]
    public void Absurdly_long_words_wrap_and_stay_on_the_paper(string format)
    {
        string word = new('W', 300);
        Receipt receipt = ShopSamples.Receipt(1);
        receipt = receipt with
        {
            Owner = word,
            Number = new string('9', 60),
            Shop = receipt.Shop with { Name = word, Conditions = word },
            Pieces = [receipt.Pieces[0] with { Title = word, Damage = word, Wishes = word, Tag = "123456789012" }],
        };

        PageChecks.Clean(ReceiptPaper.Draw(receipt, PaperFormat.Named(format), ShopSamples.English));
    }

    [Fact]
    public void A_long_receipt_goes_on_with_its_number_on_every_page_and_loses_no_piece()
    {
        IReadOnlyList<Drawing> pages = ReceiptPaper.Draw(ShopSamples.Receipt(30), PaperFormat.A5, ShopSamples.English);

        Assert.True(pages.Count > 1);
        Assert.All(pages, p => Assert.Contains(Words(p), w => w.Contains("R-2026-0412", StringComparison.Ordinal)));
        string all = string.Join('\n', pages.SelectMany(Words));
        Assert.All(Enumerable.Range(0, 30), i => Assert.Contains($"{1047 + i}-", all, StringComparison.Ordinal));
        Assert.Contains($"page {pages.Count} of {pages.Count}", all, StringComparison.Ordinal);
    }

    [Fact]
    public void A_roll_is_one_page_cut_where_the_text_ends()
    {
        IReadOnlyList<Drawing> few = ReceiptPaper.Draw(ShopSamples.Receipt(1), PaperFormat.Roll80, ShopSamples.English);
        IReadOnlyList<Drawing> many = ReceiptPaper.Draw(ShopSamples.Receipt(6), PaperFormat.Roll80, ShopSamples.English);

        Assert.Equal(80, Assert.Single(few).WidthMm);
        Assert.True(Assert.Single(many).HeightMm > few[0].HeightMm + 40);
        Assert.InRange(few[0].HeightMm - few[0].Items.OfType<DrawingItem.Text>().Max(t => t.AtMm.Y), 3, 8);
    }

    [Fact]
    public void A_price_still_to_be_agreed_is_named_and_the_total_is_called_so_far()
    {
        Receipt receipt = ShopSamples.Receipt(1) with { Taxes = [] };
        receipt = receipt with { Pieces = [receipt.Pieces[0] with { Charges = [new("New tip", null), new("Sharpened", 1200)] }] };

        string[] words = [.. Words(ReceiptPaper.Draw(receipt, PaperFormat.A5, ShopSamples.English)[0])];

        Has(words, "to be agreed");
        Has(words, "Total so far");
        Has(words, "€12.00");
    }

    [Fact]
    public void Tax_shares_that_leave_a_charge_out_are_refused()
    {
        Receipt receipt = ShopSamples.Receipt() with { Taxes = [new("VAT", 19000, 1650, 263)] };

        Assert.Contains("add up to 1650", Assert.Throws<ArgumentException>(() => ReceiptPaper.Draw(receipt, PaperFormat.A5, ShopSamples.English)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => ReceiptPaper.Draw(receipt with { Pieces = [] }, PaperFormat.A5, ShopSamples.English));
    }

    [Fact]
    public void An_edge_note_shows_angles_with_twice_their_standard_uncertainty_and_a_missing_one_as_not_read()
    {
        EdgeNote note = ShopSamples.Note();
        note = note with { Angles = [.. note.Angles, new("micro-bevel", null, null, 17, 0.25)] };

        string[] words = [.. Words(EdgeNotePaper.Draw(note, PaperFormat.A5, ShopSamples.English)[0])];

        Has(words, "14.8° ± 0.6°");
        Has(words, "13.1° ± 0.6°");
        Has(words, "not read");
        Has(words, "17.0° ± 0.5°");
        Has(words, "Come again by Fri 30/04/2027");
    }

    [Fact]
    public void A_statement_carries_the_balance_from_line_to_line_to_what_is_owed()
    {
        Statement statement = ShopSamples.Statement(3) with { Taxes = [] };

        string[] words = [.. Words(StatementPaper.Draw(statement, PaperFormat.A4, ShopSamples.English)[0])];

        // 45.00 + 117.00 = 162.00; + 118.00 = 280.00; − 200.00 = 80.00
        Has(words, "€162.00");
        Has(words, "€280.00");
        Has(words, "To pay");
        Assert.Equal(8000, statement.ClosingMinor);
        Assert.True(words.Count(w => w == "€80.00") >= 2);
    }

    [Fact]
    public void Statements_out_of_order_or_outside_their_span_are_refused()
    {
        Statement statement = ShopSamples.Statement(2) with { Taxes = [] };

        Assert.Throws<ArgumentException>(() => StatementPaper.Draw(statement with { To = new(2026, 10, 1) }, PaperFormat.A4, ShopSamples.English));
        Assert.Throws<ArgumentException>(() => StatementPaper.Draw(statement with { Entries = [.. statement.Entries.Reverse()] }, PaperFormat.A4, ShopSamples.English));
        Assert.Throws<ArgumentException>(() => StatementPaper.Draw(statement, PaperFormat.Roll80, ShopSamples.English));
    }

    [Fact]
    public void A_blank_form_keeps_to_one_side_and_carries_its_number()
    {
        IReadOnlyList<Drawing> forms = ReceiptForms.Draw(["B-0001", "B-0002"], ShopSamples.Shop, PaperFormat.A5);

        Assert.Equal(2, forms.Count);
        Has(Words(forms[1]), "B-0002");
        Assert.Throws<ArgumentException>(() => ReceiptForms.Draw([], ShopSamples.Shop, PaperFormat.A5));
    }

    [Theory]
    [InlineData("en-GB", "EUR", 123456, "€1,234.56")]
    [InlineData("de-DE", "EUR", 123456, "1.234,56 €")]
    [InlineData("fr-FR", "EUR", 123456, "1 234,56 €")]
    [InlineData("ja-JP", "JPY", 1234, "¥1,234")]
    [InlineData("en-GB", "CHF", 1250, "CHF 12.50")]
    [InlineData("en-US", "KWD", 12345, "KWD 12.345")]
    [InlineData("en-GB", "EUR", -1250, "−€12.50")]
    public void Money_is_written_as_the_culture_writes_it_in_the_shops_currency(string culture, string currency, long minor, string written) =>
        Assert.Equal(written, new ShopPrint(CultureInfo.GetCultureInfo(culture), Currency.Of(currency)).Money(minor).Replace('\u00a0', ' '));

    [Fact]
    public void A_currency_that_is_no_code_is_refused() => Assert.Contains("eur", Assert.Throws<ArgumentException>(() => Currency.Of("eur")).Message, StringComparison.Ordinal);

    private static void Has(IEnumerable<string> words, string wanted) => Assert.Contains(words, w => w == wanted);

    private static IEnumerable<string> Words(Drawing page) => page.Items.OfType<DrawingItem.Text>().Select(t => t.Words.Replace('\u00a0', ' '));
}
