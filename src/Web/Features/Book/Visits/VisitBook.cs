using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.History;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Book.Visits;

/// <summary>A note to add.</summary>
public sealed class NoteForm : WebForm
{
    /// <summary>Empty.</summary>
    public NoteForm() => Text = Add(new TextField("text", "Add a note") { Required = true, MaxLength = 4000, Lines = 3 });

    /// <summary>The words.</summary>
    public TextField Text { get; }
}

/// <summary>One line of a visit's story.</summary>
/// <param name="Fact">What stands.</param>
/// <param name="Was">What it corrected, the latest first.</param>
public sealed record StoryLine(VisitFact Fact, IReadOnlyList<VisitFact> Was);

/// <summary>A visit's page.</summary>
/// <param name="Record">The visit.</param>
/// <param name="Story">What stands, in the order it happened.</param>
/// <param name="TakenBack">What was taken back and has nothing in its place.</param>
/// <param name="Form">A note to add.</param>
public sealed record VisitModel(VisitRecord Record, IReadOnlyList<StoryLine> Story, IReadOnlyList<Correction> TakenBack, NoteForm Form);

/// <summary>Shows a visit with every fact, and adds notes.</summary>
internal static class VisitBook
{
    public static Task<IResult> ShowAsync(long id, BookQuery book, CancellationToken cancel) => OfAsync(id, new NoteForm(), book, cancel);

    public static async Task<IResult> NoteAsync(long id, HttpContext http, BookQuery book, BookWriter writer, BenchLog log, BookClock clock, CancellationToken cancel)
    {
        NoteForm form = new();
        if (!await form.ReadAsync(http))
            return await OfAsync(id, form, book, cancel);
        DateTime now = clock.Now();
        VisitNote note = new() { VisitId = id, Text = form.Text.Value!, HappenedAt = now, EnteredAt = now };
        switch (await writer.SubmitAsync(form.Once, db => log.AddAsync(db, note, Seen.Anything, cancel), _ => FormattableString.Invariant($"/book/visits/{id}"), cancel))
        {
            case Submitted<VisitNote>.Done done:
                return Page.SeeOther(done.LedTo, "Note added.");
            case Submitted<VisitNote>.Refused refused:
                form.Refuse(refused.Problems);
                break;
        }

        return await OfAsync(id, form, book, cancel);
    }

    /// <summary>Everything that stands, in the order it happened.</summary>
    internal static IEnumerable<VisitFact> Facts(VisitRecord r) =>
        ((IEnumerable<VisitFact>)[.. r.Mounts, .. r.Readings, .. r.Outlines, .. r.Sections, .. r.Steels, .. r.Aims, .. r.Settings, .. r.TouchOffs, .. r.Passes, .. r.Events,
            .. r.Marks, .. r.CutTests, .. r.Notices, .. r.Notes, .. r.Charges, .. r.HandBack is { } back ? [back] : (VisitFact[])[]])
        .OrderBy(f => f.HappenedAt).ThenBy(f => f.EnteredAt);

    /// <summary>What a fact corrected, and what that had corrected.</summary>
    internal static IReadOnlyList<VisitFact> Before(VisitFact fact, IReadOnlyList<Correction> corrections)
    {
        List<VisitFact> were = [];
        for (VisitFact? at = fact; at is not null;)
        {
            VisitFact later = at;
            at = corrections.FirstOrDefault(c => c.Now.GetType() == later.GetType() && c.Now.Id == later.Id)?.Was;
            if (at is not null)
                were.Add(at);
        }

        return were;
    }

    private static async Task<IResult> OfAsync(long id, NoteForm form, BookQuery book, CancellationToken cancel)
    {
        if (await book.VisitAsync(id, cancel) is not { } record)
            return Page.NotFound(FormattableString.Invariant($"There is no visit {id} in the book."));
        IReadOnlyList<Correction> corrections = await book.CorrectionsAsync([id], cancel);
        VisitModel model = new(record, [.. Facts(record).Select(f => new StoryLine(f, Before(f, corrections)))], [.. corrections.Where(c => c.Now.Withdrawn)], form);
        return Page.Of<VisitPage>("Visit " + TagNumber.Format(record.Visit.Tag), model, Room.Book, form.Status);
    }
}
