using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Bench.Steps;

/// <summary>Saves what a form of the bench says: facts under the form's token, a second tab told.</summary>
/// <param name="writer">The way into the book.</param>
/// <param name="log">Appends facts.</param>
/// <param name="clock">The time.</param>
internal sealed class BenchDesk(BookWriter writer, BenchLog log, BookClock clock)
{
    /// <summary>Appends facts; the verbs for a write of several.</summary>
    public BenchLog Log => log;

    /// <summary>Now, UTC.</summary>
    public DateTime Now() => clock.Now();

    /// <summary>Adds one fact.</summary>
    /// <param name="form">The form; its token, and where <paramref name="seen"/> is not given the fact it had seen.</param>
    /// <param name="fact">The fact.</param>
    /// <param name="leadsTo">Address of the next page.</param>
    /// <param name="seen">What the form had seen.</param>
    /// <param name="cancel">Gives up.</param>
    public Task<Submitted<T>> AddAsync<T>(WebForm form, T fact, string leadsTo, Seen? seen = null, CancellationToken cancel = default)
        where T : VisitFact =>
        writer.SubmitAsync(form.Once, db => log.AddAsync(db, fact, seen ?? SeenOf(form), cancel), _ => leadsTo, cancel);

    /// <summary>Writes several facts as one.</summary>
    public Task<Submitted<T>> WriteAsync<T>(WebForm form, Func<BookContext, Task<SaveOutcome<T>>> write, string leadsTo, CancellationToken cancel = default) =>
        writer.SubmitAsync(form.Once, write, _ => leadsTo, cancel);

    /// <summary>What the form had seen: the id in its version; nothing where it showed none.</summary>
    public static Seen SeenOf(WebForm form) =>
        long.TryParse(form.VersionSeen, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? Seen.Fact(id) : Seen.Nothing;

    /// <summary>The version that a form carries for the latest fact it shows.</summary>
    public static string Version(long? latest) => latest?.ToString(CultureInfo.InvariantCulture) ?? "";

    /// <summary>The redirect after a save; null where the form is to be shown again, which then says why.</summary>
    /// <param name="outcome">How the save ended.</param>
    /// <param name="form">The form.</param>
    /// <param name="told">What to say at the top of the next page.</param>
    /// <param name="meet">Fills the same form from what somebody else saved, with its version.</param>
    public static IResult? Answer<T>(Submitted<T> outcome, WebForm form, string told, Func<T, (WebForm Now, long Id)>? meet = null)
    {
        switch (outcome)
        {
            case Submitted<T>.Done done:
                return Page.SeeOther(done.LedTo, done.Again ? null : told);
            case Submitted<T>.Conflict conflict when meet is not null:
                (WebForm now, long id) = meet(conflict.Theirs);
                form.Meet(now, 0);
                form.VersionSeen = Version(id);
                return null;
            case Submitted<T>.Conflict:
                form.Refuse("somebody else saved here meanwhile; look at what stands now, then save again");
                return null;
            case Submitted<T>.Refused refused:
                form.Refuse(refused.Problems);
                return null;
            default:
                throw new InvalidOperationException("Outcomes are a closed set.");
        }
    }
}

/// <summary>A form without fields: one button.</summary>
internal sealed class BareForm : WebForm;
