using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Shop;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Kit.Rigs;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Kit.Papers;

/// <summary>Blanks to set aside.</summary>
public sealed class BlanksForm : WebForm
{
    internal BlanksForm(UnitsView units) =>
        Count = Add(new NumberField("count", "How many tags") { Required = true, Min = 1, Max = 1000, Whole = true, Hint = "Their numbers are set aside and given to nothing else." }).Fill(20, units);

    /// <summary>How many.</summary>
    public NumberField Count { get; }
}

/// <summary>What is printed for work without network or mains.</summary>
/// <param name="Form">Blanks.</param>
/// <param name="Blocks">Blocks printed before, with how many are entered.</param>
/// <param name="Rigs">Rigs in use, for their charts.</param>
public sealed record PapersModel(BlanksForm Form, IReadOnlyList<(TagBlock Block, int Entered)> Blocks, IReadOnlyList<RigWhole> Rigs);

/// <summary>Numbered blank tags, receipt forms, and a chart per rig and wheel.</summary>
internal static class PaperShelf
{
    public static async Task<IResult> ShowAsync(KitQuery kit, UnitsView units, CancellationToken cancel) => await OfAsync(new BlanksForm(units), kit, cancel);

    public static async Task<IResult> SetAsideAsync(HttpContext http, KitQuery kit, BookWriter writer, TagNumbers tags, UnitsView units, CancellationToken cancel)
    {
        BlanksForm form = new(units);
        if (!await form.ReadAsync(http))
            return await OfAsync(form, kit, cancel);
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => tags.SetAsideAsync(db, (int)form.Count.Value!.Value, cancel), _ => "/kit/papers", cancel), form, "Set aside: print them below.")
            ?? await OfAsync(form, kit, cancel);
    }

    public static async Task<IResult> TagsAsync(long id, string? on, KitQuery kit, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        if (await BlockAsync(id, kit, cancel) is not { } block)
            return None();
        IReadOnlyList<Tag> blanks = [.. TagSheet.Blanks(Numbers(block), n => shop.BaseAddress is { } at ? $"{at.AbsoluteUri.TrimEnd('/')}/t/{n}" : "").Select(t => t with { Address = string.IsNullOrEmpty(t.Address) ? null : t.Address, Invented = shop.Invented })];
        ShopPrint print = new(units.Culture, Currency.Of(shop.Currency), units.Unit == LengthUnit.Inch);
        return on == "roll"
            ? KitAnswer.Pdf(PdfWriter.Write(TagSheet.Roll(blanks, LabelSize.Usual, print)), "tags-roll.pdf")
            : KitAnswer.Pdf(PdfWriter.Write(TagSheet.Sheets(blanks, on == "letter" ? PaperFormat.Letter : PaperFormat.A4, LabelSize.Usual, print)), "tags.pdf");
    }

    public static async Task<IResult> ReceiptsAsync(long id, string? on, KitQuery kit, ShopView shop, CancellationToken cancel)
    {
        if (await BlockAsync(id, kit, cancel) is not { } block)
            return None();
        ShopCard card = await kit.CardAsync(cancel);
        ShopHead head = new(shop.Name) { Address = (card.Address ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries), Conditions = card.Conditions, Invented = shop.Invented };
        // A form has room for several pieces: a fifth as many as tags, numbered by the first tag of their share.
        string[] numbers = [.. Numbers(block).Where((_, i) => i % 5 == 0)];
        return KitAnswer.Pdf(PdfWriter.Write(ReceiptForms.Draw(numbers, head, on == "half-letter" ? PaperFormat.HalfLetter : PaperFormat.A5)), "receipts.pdf");
    }

    public static async Task<IResult> WheelChartAsync(long id, KitQuery kit, UnitsView units, ViewPreferences view, ShopView shop, CancellationToken cancel)
    {
        if (await kit.RigOfWheelAsync(id, cancel) is not { } whole || Rigs.RigShelf.Composed(whole) is not Composed<Rig>.Ready { Value: WheelAndBarRig rig })
            return Page.NotFound("There is no chart for this wheel yet: its rig lacks a dimension or the wheel a diameter.");
        WheelKept kept = whole.Rig.Wheels.Single(w => w.Id == id);
        if (rig.Wheels.FirstOrDefault(w => w.Name == kept.Name) is not { } wheel)
            return Page.NotFound($"{kept.Name} has no diameter yet, or is no longer in use: measure it first.");
        string measured = units.Date(units.LocalDay(whole.Today(id)!.HappenedAt));
        return Chart(() => Nomogram.Of(rig, wheel, Format(units), RigDrawing.Style(units, view), measured, null, shop.Invented), "chart.pdf");
    }

    public static async Task<IResult> RigChartAsync(long id, KitQuery kit, UnitsView units, ViewPreferences view, ShopView shop, CancellationToken cancel)
    {
        if (await kit.RigAsync(id, cancel) is not { } whole || Rigs.RigShelf.Composed(whole) is not Composed<Rig>.Ready ready)
            return Page.NotFound("There is no chart for this rig yet: it lacks a dimension.");
        return ready.Value is GuidedRodRig rod
            ? Chart(() => Nomogram.Of(rod, Format(units), RigDrawing.Style(units, view), null, shop.Invented), "chart.pdf")
            : Page.NotFound("A chart is made for a rod, or for each wheel of a wheel and bar.");
    }

    private static IResult Chart(Func<IReadOnlyList<Drawing>> draw, string name)
    {
        try
        {
            return KitAnswer.Pdf(PdfWriter.Write(draw()), name);
        }
        catch (ArgumentException e)
        {
            return Page.NotFound($"The chart cannot be drawn: {e.Message}");
        }
    }

    private static PaperFormat Format(UnitsView units) => units.Unit == LengthUnit.Inch ? PaperFormat.Letter : PaperFormat.A4;

    private static IEnumerable<string> Numbers(TagBlock block) => Enumerable.Range(block.From, block.To - block.From + 1).Select(TagNumber.Format);

    private static async Task<TagBlock?> BlockAsync(long id, KitQuery kit, CancellationToken cancel) =>
        (await kit.BlanksAsync(cancel)).Where(b => b.Block.Id == id).Select(b => b.Block).FirstOrDefault();

    private static IResult None() => Page.NotFound("There is no such block of blanks; set one aside first.");

    private static async Task<IResult> OfAsync(BlanksForm form, KitQuery kit, CancellationToken cancel)
    {
        PapersModel model = new(form, await kit.BlanksAsync(cancel), [.. (await kit.RigsAsync(cancel)).Where(r => !r.Rig.Retired)]);
        return Page.Of<PapersPage>("Without network", model, Room.Kit, form.Status);
    }
}
