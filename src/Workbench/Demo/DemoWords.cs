using Whetwright.Core.Blades;

namespace Whetwright.Workbench.Demo;

/// <summary>An invented kind of piece: what it is called and how it is made.</summary>
/// <param name="Name">Over the counter.</param>
/// <param name="Kind">Kind.</param>
/// <param name="LengthMm">Shortest and longest edge.</param>
/// <param name="AngleDeg">How steep it was when new: per side, or from the back.</param>
/// <param name="BehindMm">Thickness behind the edge.</param>
/// <param name="PrimaryDeg">Primary half-angle.</param>
/// <param name="HeightShare">Height over length.</param>
internal sealed record DemoPattern(
    string Name, PieceKind Kind, (double From, double To) LengthMm, (double From, double To) AngleDeg, (double From, double To) BehindMm, (double From, double To) PrimaryDeg, double HeightShare);

/// <summary>Names and words of the invented shop, all of our own invention.</summary>
internal static class DemoWords
{
    public const string ShopName = "Kerbe & Kante";

    public const string ShopAddress = "Lower Ferry Stairs 3\nOldwater\n(invented)";

    public const string Conditions = "Invented conditions. We grind with care and answer for our own mistakes. Pieces that nobody fetches are written about after the days named in our book.";

    public static IReadOnlyList<string> People { get; } =
    [
        "Ansa Quill", "Bero Tamm", "Corvin Ashdale", "Dita Mossop", "Edrik Lorne", "Fenna Wick", "Gorran Pelt", "Hesper Toll", "Ilko Varn", "Jorun Sedge",
        "Kesta Ambler", "Lorcan Fyle", "Mirel Ostrow", "Nando Creel", "Oda Brisk", "Pavo Ledger", "Quenna Marl", "Ruv Hallow", "Sanne Thorpewell", "Tarek Osier",
        "Una Dray", "Veit Lantern", "Wilma Roke", "Xenia Farrow", "Yorick Plane", "Zora Kettle", "Alder Finch-Moor", "Britt Sable", "Cato Winnow", "Demi Rasper",
        "Enno Fallow", "Freya Kiln", "Gisbert Toft", "Halle Vane", "Ivo Bramblecott",
    ];

    public static IReadOnlyList<string> Kitchens { get; } = ["The Copper Ladle, kitchen", "Harbour Room, kitchen", "Osthof canteen", "Three Herons inn", "Saltmarsh fish hall"];

    public static IReadOnlyList<DemoPattern> Household { get; } =
    [
        new("kitchen knife, black handle", PieceKind.DoubleBevel, (160, 240), (16, 21), (0.25, 0.5), (1.5, 3.5), 0.22),
        new("vegetable knife", PieceKind.DoubleBevel, (75, 110), (15, 20), (0.2, 0.4), (1.5, 3), 0.24),
        new("slicer, pear-wood handle", PieceKind.DoubleBevel, (220, 290), (14, 18), (0.2, 0.4), (1.2, 2.6), 0.15),
        new("grandmother's knife", PieceKind.DoubleBevel, (140, 190), (18, 24), (0.4, 0.8), (2.5, 4.5), 0.2),
        new("pocket knife", PieceKind.DoubleBevel, (60, 85), (18, 23), (0.4, 0.7), (3, 5), 0.25),
        new("single-bevel fish knife", PieceKind.SingleBevel, (150, 210), (22, 28), (0.6, 1.0), (2, 4), 0.22),
        new("bench chisel", PieceKind.Chisel, (12, 32), (26, 31), (1.5, 2.5), (0, 1), 1.0),
        new("plane iron", PieceKind.PlaneIron, (40, 60), (26, 30), (2, 3), (0, 1), 1.0),
        new("tailor's scissors", PieceKind.Scissors, (95, 140), (48, 56), (1.0, 1.6), (0, 2), 0.16),
        new("bread knife, scalloped", PieceKind.Serrated, (200, 240), (18, 24), (0.4, 0.7), (1.5, 3), 0.15),
    ];

    public static IReadOnlyList<DemoPattern> Professional { get; } =
    [
        new("line knife", PieceKind.DoubleBevel, (210, 250), (14, 18), (0.2, 0.4), (1.4, 2.8), 0.21),
        new("boning knife", PieceKind.DoubleBevel, (140, 165), (16, 20), (0.25, 0.45), (1.8, 3.2), 0.17),
        new("long slicer", PieceKind.DoubleBevel, (270, 320), (14, 17), (0.2, 0.35), (1.2, 2.4), 0.13),
    ];

    public static IReadOnlyList<string> Wishes { get; } = ["keen, for vegetables", "as last time", "must last", "not too keen, please", "for fish", "a chip near the tip", "it tears tomatoes"];

    public static IReadOnlyList<string> Complaints { get; } = ["dull again after a week", "burr left near the heel", "tip still catches"];
}
