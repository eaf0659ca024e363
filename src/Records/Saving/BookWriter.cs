using System.Data;
using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Whetwright.Records.Shop;

namespace Whetwright.Records.Saving;

/// <summary>
/// The way into the book: one transaction per write, on the disk before it is acknowledged, all of it or nothing. The verbs that are
/// handed in get the context of that transaction, so several of them can be one write.
/// </summary>
/// <param name="books">Makes contexts.</param>
/// <param name="clock">The time.</param>
public sealed class BookWriter(IDbContextFactory<BookContext> books, BookClock clock)
{
    private const int Attempts = 5; // chosen, not derived: only a server that refuses to serialise two writes comes back at all

    /// <summary>Writes under a form's token: the same token again saves nothing and gives the first answer.</summary>
    /// <param name="token">From the form; 1–64 characters.</param>
    /// <param name="write">What to do.</param>
    /// <param name="leadsTo">Where the save leads, such as a page's address: the answer that is kept.</param>
    /// <param name="cancel">Gives up before the commit.</param>
    public async Task<Submitted<T>> SubmitAsync<T>(
        string? token, Func<BookContext, Task<SaveOutcome<T>>> write, Func<T, string> leadsTo, CancellationToken cancel = default)
    {
        if (string.IsNullOrWhiteSpace(token) || token.Length > 64)
            return new Submitted<T>.Refused([new FieldProblem("Token", token, "a form's own token of 1 to 64 characters would be right; open the page again")]);

        return await RepeatedlyAsync(async db =>
        {
            if (await db.Submissions.AsNoTracking().FirstOrDefaultAsync(s => s.Token == token, cancel) is { } first)
                return (new Submitted<T>.Done(first.Result, Again: true), false);
            switch (await write(db))
            {
                case SaveOutcome<T>.Saved saved:
                    string result = leadsTo(saved.Value);
                    db.Submissions.Add(new Submission { Token = token, EnteredAt = clock.Now(), Result = result });
                    await db.SaveChangesAsync(cancel);
                    return (new Submitted<T>.Done(result, Again: false), true);
                case SaveOutcome<T>.Conflict conflict:
                    return ((Submitted<T>)new Submitted<T>.Conflict(conflict.Theirs), false);
                case SaveOutcome<T>.Refused refused:
                    return (new Submitted<T>.Refused(refused.Problems), false);
                default:
                    throw new InvalidOperationException("Outcomes are a closed set.");
            }
        }, cancel);
    }

    /// <summary>Writes without a token: for programs, imports and tests.</summary>
    public Task<SaveOutcome<T>> WriteAsync<T>(Func<BookContext, Task<SaveOutcome<T>>> write, CancellationToken cancel = default) =>
        RepeatedlyAsync(
            async db =>
            {
                SaveOutcome<T> outcome = await write(db);
                if (outcome is SaveOutcome<T>.Saved)
                    await db.SaveChangesAsync(cancel);
                return (outcome, outcome is SaveOutcome<T>.Saved);
            },
            cancel);

    private async Task<TAnswer> RepeatedlyAsync<TAnswer>(Func<BookContext, Task<(TAnswer Answer, bool Keep)>> work, CancellationToken cancel)
    {
        for (int attempt = 1; ; attempt++)
        {
            await using BookContext db = await books.CreateDbContextAsync(cancel);
            try
            {
                // SQLite takes its one write lock here, so nothing read inside can be out of date by the commit.
                await using IDbContextTransaction transaction = await db.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancel);
                (TAnswer answer, bool keep) = await work(db);
                if (keep)
                    await transaction.CommitAsync(cancel);
                else
                    await transaction.RollbackAsync(cancel);
                return answer;
            }
            catch (Exception e) when (attempt < Attempts && MayPass(e))
            {
                // A fresh transaction sees what the other one saved.
            }
        }
    }

    /// <summary>A server said that it may pass; or another write put the same key in first (SQLSTATE 23505, unique_violation), which a fresh transaction sees.</summary>
    private static bool MayPass(Exception? e) =>
        e is not null && (e is DbException { IsTransient: true } or DbException { SqlState: "23505" } || MayPass(e.InnerException));
}
