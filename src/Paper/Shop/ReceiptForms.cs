using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Shop;

/// <summary>Blank receipts to fill in by hand where there is no network, entered later with the day and hour they happened at.</summary>
public static class ReceiptForms
{
    /// <summary>Most rows for pieces on one form; long conditions leave room for fewer.</summary>
    public const int MostRows = 8;

    /// <summary>One form a number, each on a sheet of A5 or Half Letter; the owner's and the shop's copy are two prints of it.</summary>
    /// <param name="numbers">Numbers of the receipts, as they shall be printed.</param>
    /// <param name="shop">The shop.</param>
    /// <param name="format">A sheet.</param>
    /// <exception cref="ArgumentException">No number, or a roll.</exception>
    public static IReadOnlyList<Drawing> Draw(IReadOnlyList<string> numbers, ShopHead shop, PaperFormat format)
    {
        if (numbers.Count == 0)
            throw new ArgumentException("There is no form to print: no number was given.", nameof(numbers));
        if (format.HeightMm is null)
            throw new ArgumentException("A form to write on needs a sheet, not a roll.", nameof(format));
        return [.. numbers.SelectMany(number => Form(number, shop, format))];
    }

    // As many rows as leave the form on one side of one sheet.
    private static IReadOnlyList<Drawing> Form(string number, ShopHead shop, PaperFormat format)
    {
        for (int rows = MostRows; rows > 1; rows--)
        {
            IReadOnlyList<Drawing> form = Form(number, shop, format, rows);
            if (form.Count == 1)
                return form;
        }

        return Form(number, shop, format, 1);
    }

    private static IReadOnlyList<Drawing> Form(string number, ShopHead shop, PaperFormat format, int rows)
    {
        var flow = new Flow(format, "Receipt " + number, "A blank receipt to fill in by hand.");
        PaperHead.Draw(flow, shop, "Receipt", number, "");
        double half = flow.Width / 2;
        flow.Blank("day", 8, 0, half - 3, advance: false);
        flow.Blank("hour", 8, half);
        flow.Blank("name", 8);
        flow.Blank("telephone or mail", 8);
        flow.Blank("ready by", 8, 0, half - 3, advance: false);
        flow.Blank("number of pieces", 8, half);
        flow.Space(1.5);
        flow.Rule(0.5, 0.9);
        for (int i = 0; i < rows; i++)
        {
            flow.Blank("tag", 7, 0, flow.Width * 0.3, advance: false);
            flow.Blank("piece", 7, (flow.Width * 0.3) + 2, (flow.Width * 0.76) - 2, advance: false);
            flow.Blank("price", 7, flow.Width * 0.76);
            flow.Blank("damage seen", 6.4, 0, half - 1, advance: false);
            flow.Blank("not to be done", 6.4, half + 1);
            flow.Blank("wanted", 6.4);
            flow.Space(0.6);
            flow.Rule(0.5, 0.9);
        }

        double third = flow.Width / 3;
        flow.Blank("total", 8, 0, third - 2, advance: false);
        flow.Blank("deposit", 8, third, (2 * third) - 2, advance: false);
        flow.Blank("to pay", 8, 2 * third);
        PaperHead.Conditions(flow, shop);
        PaperHead.Sign(flow);
        return flow.Finish();
    }
}
