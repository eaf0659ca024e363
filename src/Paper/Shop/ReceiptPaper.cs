using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Shop;

/// <summary>Lays a receipt out on A5, A4, Letter or an 80 mm roll.</summary>
public static class ReceiptPaper
{
    /// <summary>The pages.</summary>
    /// <exception cref="ArgumentException">No piece; or the tax shares do not add up to the total.</exception>
    public static IReadOnlyList<Drawing> Draw(Receipt receipt, PaperFormat format, ShopPrint print)
    {
        Check(receipt);
        var flow = new Flow(format, "Receipt " + receipt.Number, "What was taken in, what is to be done, what it costs.");
        flow.Again = f =>
        {
            f.Running(receipt.Shop.Name, "Receipt " + receipt.Number);
        };
        PaperHead.Draw(flow, receipt.Shop, "Receipt", receipt.Number, print.Date(receipt.Date));
        flow.Named("For", string.Join(", ", new[] { receipt.Owner, receipt.OwnerContact }.Where(t => !string.IsNullOrWhiteSpace(t))));
        flow.Named("Pieces", receipt.Count.ToString(print.Culture));
        if (receipt.Promise is { } promise)
        {
            flow.Space(1.2);
            flow.Text("Ready by " + print.DayAndYear(promise), flow.Size * 1.35, TextFace.Bold);
        }

        foreach (ReceiptPiece piece in receipt.Pieces)
            Piece(flow, piece, print);
        flow.Rule(0.5);
        Money(flow, receipt, print);
        foreach (string note in receipt.Notes)
        {
            flow.Space(1);
            flow.Text(note);
        }

        PaperHead.Conditions(flow, receipt.Shop);
        if (receipt.ToSign)
            PaperHead.Sign(flow);
        return flow.Finish();
    }

    private static void Piece(Flow flow, ReceiptPiece piece, ShopPrint print)
    {
        double lines = 1 + piece.Charges.Count + (piece.Damage is null ? 0 : 1);
        flow.Keep((lines * flow.Size * 1.3) + 4);
        flow.Rule(0.2, 1.1);
        const double indent = 3;
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        double tagSize = flow.Size * 1.25;
        string tag = flow.Shown(piece.Tag);
        flow.Page.Text(flow.Left, flow.Y + tagSize, tag, tagSize, TextAnchor.Start, TextFace.Bold);
        double beside = bold.WidthMm(tag, tagSize) + 2.5;
        double top = flow.Y;
        flow.Space((tagSize - flow.Size) * 0.9);
        flow.Text(piece.Title, 0, TextFace.Bold, Ink.Main, beside);
        if (flow.Y > top)
            flow.Space(Math.Max(0, top + (tagSize * 1.3) - flow.Y));
        foreach (Charged charge in piece.Charges)
            flow.Pair(Text(charge, piece, print), charge.AmountMinor is { } amount ? print.Money(piece.Count * amount) : "to be agreed", indentMm: indent);
        flow.Named("Wanted", piece.Wishes, indent);
        flow.Named("Damage seen and agreed", piece.Damage, indent);
        flow.Named("Not to be done", piece.Declined, indent);
    }

    private static string Text(Charged charge, ReceiptPiece piece, ShopPrint print) =>
        piece.Count == 1 || charge.AmountMinor is not { } each ? charge.Text : $"{charge.Text}, {piece.Count.ToString(print.Culture)} × {print.Money(each)}";

    private static void Money(Flow flow, Receipt receipt, ShopPrint print)
    {
        flow.Keep(flow.Size * 1.5 * (3 + receipt.Taxes.Count + receipt.Received.Count));
        flow.Pair(receipt.IsOpen ? "Total so far" : "Total", print.Money(receipt.TotalMinor), flow.Size * 1.15, TextFace.Bold);
        foreach (TaxShare tax in receipt.Taxes)
            flow.Pair($"{tax.Name} {print.Rate(tax.MilliPercent)} in {print.Money(tax.GrossMinor)}", print.Money(tax.TaxMinor), indentMm: 3);
        foreach (ReceivedMoney received in receipt.Received)
            flow.Pair(received.Text + (received.Date is { } date ? ", " + print.Date(date) : ""), print.Money(-received.AmountMinor), indentMm: 3);
        flow.Space(0.8);
        string due = receipt.DueMinor < 0 ? "To give back" : receipt.IsOpen ? "To pay so far" : "To pay";
        flow.Pair(due, print.Money(Math.Abs(receipt.DueMinor)), flow.Size * 1.35, TextFace.Bold);
    }

    private static void Check(Receipt receipt)
    {
        if (receipt.Pieces.Count == 0)
            throw new ArgumentException("A receipt needs a piece.", nameof(receipt));
        long gross = receipt.Taxes.Sum(t => t.GrossMinor);
        if (receipt.Taxes.Count > 0 && gross != receipt.TotalMinor)
            throw new ArgumentException($"The tax shares add up to {gross}, the charges to {receipt.TotalMinor}; every charge belongs under one rate.", nameof(receipt));
    }
}
