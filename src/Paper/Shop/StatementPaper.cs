using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Shop;

/// <summary>Lays a statement out: what was charged and received, a running balance, the tax in it, what is owed.</summary>
public static class StatementPaper
{
    /// <summary>The pages.</summary>
    /// <exception cref="ArgumentException">The span ends before it begins, an entry lies outside it or out of order, tax shares that do not add up, or a roll.</exception>
    public static IReadOnlyList<Drawing> Draw(Statement statement, PaperFormat format, ShopPrint print)
    {
        Check(statement, format);
        var flow = new Flow(format, "Statement " + statement.Number, "What was charged and received on an account.");
        PaperHead.Draw(flow, statement.Shop, "Statement", statement.Number, print.Date(statement.Date));
        flow.Text(statement.Account, flow.Size * 1.2, TextFace.Bold);
        foreach (string line in statement.AccountAddress)
            flow.Text(line);
        flow.Space(2);
        flow.Text($"{print.Date(statement.From)} to {print.Date(statement.To)}", flow.Size * 1.1, TextFace.Bold);
        flow.Space(2);
        Table(flow, statement, print);
        flow.Space(3);
        flow.Keep(flow.Size * (4 + (statement.Taxes.Count * 1.4)));
        string due = statement.ClosingMinor < 0 ? "To your credit" : "To pay";
        flow.Pair(due, print.Money(Math.Abs(statement.ClosingMinor)), flow.Size * 1.5, TextFace.Bold);
        foreach (TaxShare tax in statement.Taxes)
            flow.Pair($"{tax.Name} {print.Rate(tax.MilliPercent)} in charges of {print.Money(tax.GrossMinor)}", print.Money(tax.TaxMinor));
        foreach (string note in statement.Notes)
        {
            flow.Space(1.2);
            flow.Text(note);
        }

        PaperHead.Conditions(flow, statement.Shop);
        return flow.Finish();
    }

    private static void Table(Flow flow, Statement statement, ShopPrint print)
    {
        double w = flow.Width;
        (double From, double To, TextAnchor Anchor) Column(double from, double to, TextAnchor anchor) => (flow.Left + (w * from), flow.Left + (w * to) - 1.5, anchor);
        (double, double, TextAnchor)[] columns =
        [
            Column(0, 0.13, TextAnchor.Start), Column(0.13, 0.26, TextAnchor.Start), Column(0.26, 0.59, TextAnchor.Start),
            Column(0.59, 0.73, TextAnchor.End), Column(0.73, 0.865, TextAnchor.End), (flow.Left + (w * 0.865), flow.Right, TextAnchor.End),
        ];
        double size = flow.Size * 0.95;
        void Head(Flow on)
        {
            on.Row(columns, ["date", "number", "what", "charged", "received", "owed"], TextFace.CondensedBold, size);
            on.Rule(0.3, 0.8);
        }

        Head(flow);
        flow.Again = again =>
        {
            again.Running(statement.Shop.Name, "Statement " + statement.Number);
            again.Space(2);
            Head(again);
        };
        long owed = statement.OpeningMinor;
        flow.Row(columns, [print.Date(statement.From), "", "brought forward", "", "", print.Money(owed)], TextFace.Condensed, size);
        foreach (StatementEntry entry in statement.Entries)
        {
            owed += entry.ChargedMinor - entry.ReceivedMinor;
            string charged = entry.ChargedMinor == 0 ? "" : print.Money(entry.ChargedMinor);
            string received = entry.ReceivedMinor == 0 ? "" : print.Money(entry.ReceivedMinor);
            flow.Row(columns, [print.Date(entry.Date), entry.Number ?? "", entry.Text, charged, received, print.Money(owed)], TextFace.Condensed, size);
        }

        flow.Again = null;
        flow.Rule(0.3, 0.8);
        flow.Row(
            columns,
            ["", "", "", print.Money(statement.Entries.Sum(e => e.ChargedMinor)), print.Money(statement.Entries.Sum(e => e.ReceivedMinor)), print.Money(owed)],
            TextFace.CondensedBold,
            size);
    }

    private static void Check(Statement statement, PaperFormat format)
    {
        if (format.WidthMm < 130)
            throw new ArgumentException($"A statement's columns need a sheet of 130 mm or wider; {format.Name} is narrower.", nameof(format));
        if (statement.To < statement.From)
            throw new ArgumentException($"The statement ends on {statement.To:O}, before it begins on {statement.From:O}.", nameof(statement));
        DateOnly last = statement.From;
        foreach (StatementEntry entry in statement.Entries)
        {
            if (entry.Date < last || entry.Date > statement.To)
                throw new ArgumentException($"The entry \"{entry.Text}\" of {entry.Date:O} is out of order or outside {statement.From:O} to {statement.To:O}.", nameof(statement));
            last = entry.Date;
        }

        long gross = statement.Taxes.Sum(t => t.GrossMinor);
        if (statement.Taxes.Count > 0 && gross != statement.Entries.Sum(e => e.ChargedMinor))
            throw new ArgumentException($"The tax shares add up to {gross}, the charges to {statement.Entries.Sum(e => e.ChargedMinor)}.", nameof(statement));
    }
}
