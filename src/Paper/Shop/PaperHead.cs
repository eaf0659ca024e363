using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Shop;

/// <summary>What all papers of the shop share: its name and address, the document's name and number, conditions, a line to sign.</summary>
internal static class PaperHead
{
    internal static void Draw(Flow flow, ShopHead shop, string kind, string number, string date)
    {
        if (string.IsNullOrWhiteSpace(shop.Name))
            throw new ArgumentException("The shop has no name; its papers need one.", nameof(shop));
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        bool narrow = flow.Width < 90;
        double right = 0;
        double top = flow.Y;
        if (!narrow)
        {
            string shown = flow.Shown(number);
            double size = bold.SizeToFit(shown, 6, flow.Width * 0.4);
            flow.Page.Text(flow.Right, top + 3.4, kind, 3.2, TextAnchor.End);
            flow.Page.Text(flow.Right, top + 4.8 + size, shown, size, TextAnchor.End, TextFace.Bold);
            flow.Page.Text(flow.Right, top + 9.6 + size, date, flow.Size, TextAnchor.End);
            right = Math.Max(bold.WidthMm(shown, size), 24) + 5;
        }

        double name = narrow ? 4.4 : 5.2;
        flow.Text(shop.Name, name, TextFace.Bold, Ink.Main, 0, right);
        foreach (string line in shop.Address.Concat(shop.Contact))
            flow.Text(line, flow.Size * 0.95, TextFace.Regular, Ink.Main, 0, right);
        if (shop.Invented)
            flow.Text(ShopHead.InventedNote, 2.6, TextFace.Bold, Ink.Main, 0, right);
        if (narrow)
        {
            flow.Space(1.5);
            flow.Pair(kind + " " + number, date, 3.8, TextFace.Bold, TextFace.Regular);
        }
        else
        {
            flow.Space(Math.Max(0, top + 17 - flow.Y));
        }

        flow.Rule(0.5);
    }

    internal static void Conditions(Flow flow, ShopHead shop)
    {
        if (string.IsNullOrWhiteSpace(shop.Conditions))
            return;
        flow.Space(2.5);
        flow.Keep(12);
        flow.Text("Conditions", 2.9, TextFace.Bold);
        flow.Text(shop.Conditions, 2.7);
    }

    internal static void Sign(Flow flow)
    {
        const double height = 12;
        flow.Keep(height + 5);
        flow.Space(height);
        flow.Page.Line(flow.Left, flow.Y, flow.Left + Math.Min(flow.Width, 80), flow.Y, new Stroke(0.2));
        flow.Text("Damage and conditions acknowledged", 2.6, TextFace.Regular, Ink.Muted);
    }
}
