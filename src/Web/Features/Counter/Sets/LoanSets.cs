using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Counter.Sets;

/// <summary>A new loan set of the shop.</summary>
public sealed class LoanSetForm : WebForm
{
    /// <summary>Empty.</summary>
    public LoanSetForm()
    {
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 80 });
        Pieces = Add(new NumberField("pieces", "How many pieces") { Required = true, Whole = true, Min = 1, Max = SetDesk.MostSlots });
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>How many.</summary>
    public NumberField Pieces { get; }
}

/// <summary>A loan set comes back.</summary>
public sealed class LoanBackForm : WebForm
{
    /// <summary>Of one loan.</summary>
    public LoanBackForm(LoanStanding loan, Whetwright.Web.Shared.Showing.UnitsView units)
    {
        Loan = loan;
        Count = Add(new NumberField(string.Create(CultureInfo.InvariantCulture, $"count{loan.Set.Id}"), "How many came back") { Required = true, Whole = true, Min = 0, Max = loan.Set.Pieces, Step = 1 });
        Count.Fill(loan.OutTo?.Count, units);
    }

    /// <summary>The loan.</summary>
    public LoanStanding Loan { get; }

    /// <summary>How many.</summary>
    public NumberField Count { get; }
}

/// <summary>The loan sets.</summary>
/// <param name="Sets">Where each is.</param>
/// <param name="Form">A new one.</param>
/// <param name="Back">A form for each that is out.</param>
public sealed record LoanSetsModel(IReadOnlyList<LoanStanding> Sets, LoanSetForm Form, IReadOnlyList<LoanBackForm> Back);

/// <summary>Loan sets: made, shown, taken back. They go out with a count in.</summary>
internal static class LoanSets
{
    public static async Task<IResult> ShowAsync(SetQuery sets, Shared.Showing.UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<LoanStanding> loans = await sets.LoansAsync(cancel);
        return Of(new(loans, new(), Back(loans, units)));
    }

    public static async Task<IResult> MakeAsync(HttpContext http, SetQuery sets, BookWriter writer, KitDesk kit, Shared.Showing.UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<LoanStanding> loans = await sets.LoansAsync(cancel);
        LoanSetForm form = new();
        if (await form.ReadAsync(http))
        {
            if (loans.Any(l => l.Set.Name.Equals(form.Name.Value, StringComparison.OrdinalIgnoreCase)))
            {
                form.Name.Refuse($"'{form.Name.Value}' is the name of another loan set; a name of its own would be right");
                return Of(new(loans, form, Back(loans, units)));
            }

            Submitted<LoanSet> saved = await writer.SubmitAsync(
                form.Once, db => kit.AddLoanSetAsync(db, form.Name.Value, (int)form.Pieces.Value!.Value, cancel), _ => "/counter/loans", cancel);
            if (saved is Submitted<LoanSet>.Done done)
                return Page.SeeOther(done.LedTo, $"{form.Name.Value} is kept.");
            if (saved is Submitted<LoanSet>.Refused refused)
                form.Refuse(refused.Problems);
        }

        return Of(new(loans, form, Back(loans, units)));
    }

    public static async Task<IResult> BackAsync(long loanSetId, HttpContext http, SetQuery sets, BookWriter writer, SetDesk desk, Shared.Showing.UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<LoanStanding> loans = await sets.LoansAsync(cancel);
        IReadOnlyList<LoanBackForm> all = Back(loans, units);
        if (all.FirstOrDefault(b => b.Loan.Set.Id == loanSetId) is not { Loan: { OutTo: { } loan, Set: var set } } form)
            return Page.NotFound("That loan set is not out; look at the list of loan sets.");
        if (await form.ReadAsync(http))
        {
            int count = (int)form.Count.Value!.Value;
            Submitted<Loan> saved = await writer.SubmitAsync(form.Once, db => desk.LendAsync(db, loanSetId, loan.OwnerId, false, count, cancel: cancel), _ => "/counter/loans", cancel);
            if (saved is Submitted<Loan>.Done done)
                return Page.SeeOther(done.LedTo, count == loan.Count ? $"{set.Name} is back, nothing missing." : $"{set.Name} is back: {count} of {loan.Count}, {Math.Abs(loan.Count - count)} {(count < loan.Count ? "missing" : "too many")}.");
            if (saved is Submitted<Loan>.Refused refused)
                form.Refuse(refused.Problems.Select(p => p with { Field = p.Field == "Count" ? form.Count.Name : p.Field }));
        }

        return Of(new(loans, new(), all), form.Status);
    }

    private static IReadOnlyList<LoanBackForm> Back(IReadOnlyList<LoanStanding> loans, Shared.Showing.UnitsView units) => [.. loans.Where(l => l.OutTo is not null).Select(l => new LoanBackForm(l, units))];

    private static IResult Of(LoanSetsModel model, int? status = null) => Page.Of<LoanSetsPage>("Loan sets", model, Room.Counter, status ?? model.Form.Status);
}
