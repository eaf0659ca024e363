using System.Globalization;
using Whetwright.Paper.Shop;

namespace Whetwright.Paper.Tests.Shop;

/// <summary>An invented shop and its papers: no such shop, owner or piece.</summary>
internal static class ShopSamples
{
    internal const string Address = "https://bench.example/t/1047-3";

    internal static ShopPrint English { get; } = new(CultureInfo.GetCultureInfo("en-GB"), Currency.Of("EUR"));

    internal static ShopPrint German { get; } = new(CultureInfo.GetCultureInfo("de-DE"), Currency.Of("EUR"));

    internal static ShopHead Shop { get; } = new("Invented Grindery at the Old Lock")
    {
        Address = ["Invented Lane 7", "99999 Nowhere"],
        Contact = ["000 000000 · counter@bench.example"],
        Conditions = "Pieces are kept ninety days after the promised day; then we write, and after thirty more we may sell them to cover the work."
            + "\nBlades come back very sharp: open the wrapping on a table, away from children. Chips, bends and rust named above were there before.",
        Invented = true,
    };

    internal static Tag Tag { get; } = new("1047-3")
    {
        Address = Address, Owner = "Bistro Łódź, B. Håkansson", Piece = "Kitchen knife, 210 mm, chip near the tip", Promise = new(2026, 11, 27), Invented = true,
    };

    internal static Receipt Receipt(int pieces = 3) => new()
    {
        Shop = Shop,
        Number = "R-2026-0412",
        Date = new(2026, 11, 25),
        Owner = "Bistro Łódź, Birgitta Håkansson",
        OwnerContact = "000 111222",
        Promise = new(2026, 11, 27),
        Pieces =
        [
            .. Enumerable.Range(0, pieces).Select(i => new ReceiptPiece($"{1047 + i}-{(3 + i) % 10}", i % 3 == 0 ? "Kitchen knife, 210 mm" : i % 3 == 1 ? "Scissors, tailor's, 240 mm" : "Chisel, 25 mm, square")
            {
                Charges = i % 3 == 0 ? [new("Double-bevel knife to 25 cm", 1200), new("Chip taken out", 450)] : [new(i % 3 == 1 ? "Scissors set and sharpened" : "Chisel, back flattened", 1650)],
                Damage = i % 3 == 0 ? "chip 1.2 mm deep, 14 mm from the tip; handle scale loose at the heel" : null,
                Declined = i % 3 == 2 ? "regrinding the primary bevel" : null,
                Wishes = i % 3 == 0 ? "keep the angle it has" : null,
            }),
        ],
        Taxes = Shares(pieces),
        Received = [new("Deposit, cash", 2000)],
        Notes = ["Loan set 4 handed out: 3 knives."],
    };

    internal static EdgeNote Note() => new()
    {
        Shop = Shop,
        Number = "1047-3",
        Piece = "Kitchen knife, 210 mm",
        Date = new(2026, 11, 27),
        Owner = "Bistro Łódź",
        Section = SampleSheets.Section(15, 13, 0.35, 2, 0.05),
        Angles = [new("left", 14.8, 0.3, 13.1, 0.3), new("right", 15.3, 0.3, 13.0, 0.3), new("included", 30.1, 0.14, 26.1, 0.14)],
        Facts = [new("height lost", "0.09 mm"), new("steel taken off", "32 mg"), new("width of the facets", "0.68 mm")],
        Done = ["Chip near the tip ground out; new edge at 13° a side, deburred and stropped.", "Handle scale glued at the heel."],
        Remarks = ["The blade is bent by 0.4 mm over its length: left as it is."],
        Care = ["Wash by hand, dry at once. Wood or soft board under it, never glass or stone.", "A few light strokes on a leather strop keep it going, edge trailing."],
        ComeAgain = new(2027, 4, 30),
        ComeAgainWhy = "or as soon as it slides on a tomato's skin.",
        Address = Address,
    };

    internal static Statement Statement(int entries = 6)
    {
        StatementEntry[] all =
        [
            .. Enumerable.Range(0, entries).Select(i => new StatementEntry(
                new DateOnly(2026, 11, 1).AddDays(Math.Min(28, i * 28 / Math.Max(1, entries - 1))),
                i % 3 == 2 ? null : $"R-2026-{390 + i:0000}",
                i % 3 == 2 ? "received by transfer, with thanks" : $"{28 + (i % 5)} kitchen knives of the house set, sharpened on site",
                i % 3 == 2 ? 0 : 11700 + (100 * i),
                i % 3 == 2 ? 20000 : 0)),
        ];
        long charged = all.Sum(e => e.ChargedMinor);
        return new()
        {
            Shop = Shop,
            Number = "S-2026-11",
            Date = new(2026, 12, 1),
            Account = "Invented Canteen, kitchen on the second floor",
            AccountAddress = ["Nowhere Road 1", "99999 Nowhere"],
            From = new(2026, 11, 1),
            To = new(2026, 11, 30),
            OpeningMinor = 4500,
            Entries = all,
            Taxes = [new("VAT", 19000, charged, TaxIn(charged, 19000))],
            Notes = ["Please pay within fourteen days."],
        };
    }

    /// <summary>Tax in an amount, by hand: gross − gross / (1 + rate), to the nearest.</summary>
    internal static long TaxIn(long gross, int milliPercent) => (long)Math.Round((decimal)gross * milliPercent / (100000 + milliPercent), MidpointRounding.AwayFromZero);

    private static TaxShare[] Shares(int pieces)
    {
        long knives = 1650L * ((pieces + 2) / 3);
        long others = 1650L * (pieces - ((pieces + 2) / 3));
        return others == 0 ? [new("VAT", 19000, knives, TaxIn(knives, 19000))] : [new("VAT", 19000, knives, TaxIn(knives, 19000)), new("VAT", 7000, others, TaxIn(others, 7000))];
    }
}
