using System.Globalization;
using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Saving;

/// <summary>Appends facts. Facts of visits go through <see cref="Bench.BenchLog"/>, which looks at the visit, too.</summary>
public static class FactLog
{
    /// <summary>Adds a fact, where nobody added one of its kind since the form was shown and what it corrects still stands.</summary>
    /// <param name="db">The write's context.</param>
    /// <param name="fact">The fact.</param>
    /// <param name="siblings">The facts that the form showed together: of the same visit, wheel, rig.</param>
    /// <param name="seen">The latest of them that the form knew of.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<SaveOutcome<T>> AddFactAsync<T>(
        this BookContext db, T fact, Expression<Func<T, bool>> siblings, Seen seen = default, CancellationToken cancel = default)
        where T : Fact
    {
        FormCheck check = new();
        check.That(fact.HappenedAt.Year is >= 1970 and < 9999, nameof(fact.HappenedAt), fact.HappenedAt, "the day and time it happened would be right");
        check.That(!fact.Withdrawn || fact.CorrectsId is not null, nameof(fact.CorrectsId), null, "a fact that takes something back names what");
        if (!check.Passed)
            return new SaveOutcome<T>.Refused(check.Problems);

        IQueryable<T> kin = db.Set<T>().AsNoTracking().Where(siblings);
        if (seen.Checks && await kin.OrderByDescending(f => f.Id).FirstOrDefaultAsync(cancel) is { } latest && latest.Id != seen.Latest)
            return new SaveOutcome<T>.Conflict(latest);
        if (fact.CorrectsId is { } corrected)
        {
            if (!await kin.AnyAsync(f => f.Id == corrected, cancel))
                return new SaveOutcome<T>.Refused(nameof(fact.CorrectsId), corrected.ToString(CultureInfo.InvariantCulture), "an earlier entry of the same kind, at the same place, would be right");
            if (await kin.FirstOrDefaultAsync(f => f.CorrectsId == corrected, cancel) is { } theirs)
                return new SaveOutcome<T>.Conflict(theirs);
        }

        db.Set<T>().Add(fact);
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<T>.Saved(fact);
    }
}
