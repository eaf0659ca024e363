using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit;

/// <summary>A new tax rate, or a known one from a new day on. Earlier receipts keep theirs.</summary>
public sealed class TaxForm : WebForm
{
    public TaxForm(IReadOnlyList<string> known, DateOnly today)
    {
        Name = Add(new TextField("name", "Name on receipts") { Required = true, MaxLength = 40, Offered = known, Hint = "The same name again changes that rate from the day on." });
        Percent = Add(new NumberField("percent", "Rate") { Unit = "%", Min = 0, Max = 100, Required = true, Hint = "Prices in the list hold it." });
        From = Add(new DateField("from", "From") { Required = true }).Fill(today);
    }

    public TextField Name { get; }

    public NumberField Percent { get; }

    public DateField From { get; }
}

/// <summary>What the tax page shows.</summary>
/// <param name="Form">The form.</param>
/// <param name="Rates">All rates, the latest first.</param>
public sealed record TaxModel(TaxForm Form, IReadOnlyList<TaxRate> Rates);

/// <summary>Shows the rates and adds one.</summary>
internal static class Tax
{
    public static async Task<IResult> ShowAsync(IDbContextFactory<BookContext> books, UnitsView units, TimeProvider time, CancellationToken cancel)
    {
        List<TaxRate> rates = await RatesAsync(books, cancel);
        return Of(new(Empty(rates, units, time), rates));
    }

    public static async Task<IResult> SaveAsync(
        HttpContext http, IDbContextFactory<BookContext> books, BookWriter writer, UnitsView units, TimeProvider time, CancellationToken cancel)
    {
        List<TaxRate> rates = await RatesAsync(books, cancel);
        TaxForm form = Empty(rates, units, time);
        if (!await form.ReadAsync(http))
            return Of(new(form, rates));

        Submitted<TaxRate> outcome = await writer.SubmitAsync(
            form.Once,
            db =>
            {
                TaxRate rate = new() { Name = form.Name.Value!, MilliPercent = (int)Math.Round(form.Percent.Value!.Value * 1000), From = form.From.Value!.Value };
                db.TaxRates.Add(rate);
                return Task.FromResult<SaveOutcome<TaxRate>>(new SaveOutcome<TaxRate>.Saved(rate));
            },
            _ => "/kit/tax",
            cancel);
        if (outcome is Submitted<TaxRate>.Done done)
            return Page.SeeOther(done.LedTo, $"{form.Name.Value}: {units.Number(form.Percent.Value!.Value, 2)} % from {units.Date(form.From.Value!.Value)}.");
        if (outcome is Submitted<TaxRate>.Refused refused)
            form.Refuse(refused.Problems);
        return Of(new(form, rates));
    }

    private static TaxForm Empty(List<TaxRate> rates, UnitsView units, TimeProvider time) =>
        new([.. rates.Select(r => r.Name).Distinct(StringComparer.Ordinal)], units.LocalDay(time.GetUtcNow().UtcDateTime));

    private static async Task<List<TaxRate>> RatesAsync(IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.TaxRates.AsNoTracking().OrderByDescending(r => r.From).ThenByDescending(r => r.Id).ToListAsync(cancel);
    }

    private static IResult Of(TaxModel model) => Page.Of<TaxPage>("Tax", model, Room.Kit, model.Form.Status);
}
