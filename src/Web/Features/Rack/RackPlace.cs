using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Rack;

/// <summary>Where a piece lies and what was promised.</summary>
public sealed class RackPlaceForm : WebForm
{
    /// <summary>Filled from the visit.</summary>
    public RackPlaceForm(Visit visit, IReadOnlyList<string> places)
    {
        Tag = TagNumber.Format(visit.Tag);
        Piece = visit.Piece?.Name ?? "";
        Owner = visit.Piece?.Owner?.Name ?? "";
        Place = Add(new TextField("place", "Where it lies") { MaxLength = 60, Offered = places, Hint = "Shelf, drawer, hook." }).Fill(visit.Place);
        Promised = Add(new DateField("promisedFor", "Promised for")).Fill(visit.PromisedFor);
        Wishes = Add(new TextField("wishes", "What the owner wants") { MaxLength = 4000, Lines = 3 }).Fill(visit.Wishes);
        VersionSeen = visit.Version.ToString(System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>The tag.</summary>
    public string Tag { get; }

    /// <summary>The piece.</summary>
    public string Piece { get; }

    /// <summary>Whose.</summary>
    public string Owner { get; }

    /// <summary>Where it lies.</summary>
    public TextField Place { get; }

    /// <summary>The day promised.</summary>
    public DateField Promised { get; }

    /// <summary>Wishes.</summary>
    public TextField Wishes { get; }
}

/// <summary>Moves a piece on the rack, or its promise.</summary>
internal static class RackPlace
{
    public static async Task<IResult> ShowAsync(string tag, IDbContextFactory<BookContext> books, CancellationToken cancel) =>
        await FindAsync(tag, books, cancel) is ({ } visit, var places) ? Of(new RackPlaceForm(visit, places)) : Nothing(tag);

    public static async Task<IResult> SaveAsync(
        string tag, HttpContext http, IDbContextFactory<BookContext> books, BookWriter writer, VisitDesk desk, CancellationToken cancel)
    {
        if (await FindAsync(tag, books, cancel) is not ({ } visit, var places))
            return Nothing(tag);
        RackPlaceForm form = new(visit, places);
        if (!await form.ReadAsync(http))
            return Of(form);
        VisitForm wanted = VisitForm.From(visit) with { Place = form.Place.Value, PromisedFor = form.Promised.Value, Wishes = form.Wishes.Value };
        switch (await writer.SubmitAsync(form.Once, db => desk.EditAsync(db, visit.Id, form.SeenVersion, wanted, cancel), _ => "/rack", cancel))
        {
            case Submitted<Visit>.Done done:
                return Page.SeeOther(done.LedTo, $"{form.Tag}: saved.");
            case Submitted<Visit>.Conflict { Theirs: var theirs }:
                form.Meet(new RackPlaceForm(theirs, places), theirs.Version);
                return Of(form);
            case Submitted<Visit>.Refused refused:
                form.Refuse(refused.Problems);
                return Of(form);
            default:
                throw new InvalidOperationException("Outcomes are a closed set.");
        }
    }

    private static async Task<(Visit? Visit, IReadOnlyList<string> Places)> FindAsync(string tag, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        if (!TagNumber.TryParse(tag, out int number))
            return (null, []);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Visit? visit = await db.Visits.AsNoTracking().Include(v => v.Piece).ThenInclude(p => p!.Owner).FirstOrDefaultAsync(v => v.Tag == number && v.HandBackId == null, cancel);
        List<string> places = await db.Visits.Where(v => v.HandBackId == null && v.Place != null).Select(v => v.Place!).Distinct().OrderBy(p => p).Take(40).ToListAsync(cancel);
        return (visit, places);
    }

    private static IResult Nothing(string tag) => Page.NotFound($"No piece that is here hangs under tag {tag}. The tag may have been misread, or the piece is handed back: look in the book.");

    private static IResult Of(RackPlaceForm form) => Page.Of<RackPlacePage>($"Move {form.Tag}", form, Room.Rack, form.Status);
}
