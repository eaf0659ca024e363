using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Kit;

/// <summary>Writes the kit: rigs, wheels with their diameters, abrasives, instruments, rules, prices, loan sets.</summary>
/// <param name="clock">The time.</param>
public sealed class KitDesk(BookClock clock)
{
    /// <summary>Adds a rig, whose geometry the caller has read with the format's own reader.</summary>
    public async Task<SaveOutcome<RigKept>> AddRigAsync(BookContext db, RigTyped typed, CancellationToken cancel = default)
    {
        if (await WrongAsync(db, null, typed, cancel) is { Count: > 0 } problems)
            return new SaveOutcome<RigKept>.Refused(problems);
        return await AddAsync(db, new RigKept { Name = typed.Name!.Trim(), RigJson = typed.RigJson, Retired = typed.Retired }, cancel);
    }

    /// <summary>Edits a rig as the form saw it.</summary>
    public async Task<SaveOutcome<RigKept>> EditRigAsync(BookContext db, long id, int seen, RigTyped typed, CancellationToken cancel = default) =>
        await WrongAsync(db, id, typed, cancel) is { Count: > 0 } problems
            ? new SaveOutcome<RigKept>.Refused(problems)
            : await db.EditAsync<RigKept>(id, seen, rig => (rig.Name, rig.RigJson, rig.Retired) = (typed.Name!.Trim(), typed.RigJson, typed.Retired), cancel);

    /// <summary>Adds a wheel with its first diameter.</summary>
    public async Task<SaveOutcome<WheelKept>> AddWheelAsync(BookContext db, WheelTyped typed, DiameterTyped diameter, CancellationToken cancel = default)
    {
        List<FieldProblem> problems = [.. await WrongAsync(db, null, typed, cancel), .. Wrong(diameter)];
        if (problems.Count > 0)
            return new SaveOutcome<WheelKept>.Refused(problems);
        WheelKept wheel = new() { Name = "" };
        typed.Put(wheel);
        await AddAsync(db, wheel, cancel);
        return (await AddDiameterAsync(db, wheel.Id, diameter, cancel: cancel)).As(_ => wheel);
    }

    /// <summary>Edits a wheel as the form saw it.</summary>
    public async Task<SaveOutcome<WheelKept>> EditWheelAsync(BookContext db, long id, int seen, WheelTyped typed, CancellationToken cancel = default) =>
        await WrongAsync(db, id, typed, cancel) is { Count: > 0 } problems
            ? new SaveOutcome<WheelKept>.Refused(problems)
            : await db.EditAsync<WheelKept>(id, seen, typed.Put, cancel);

    /// <summary>Enters a diameter: every setting that pinned another one is stale from now on.</summary>
    public async Task<SaveOutcome<DiameterEntry>> AddDiameterAsync(BookContext db, long wheelId, DiameterTyped typed, Seen seen = default, CancellationToken cancel = default)
    {
        if (!await db.Wheels.AnyAsync(w => w.Id == wheelId, cancel))
            return new SaveOutcome<DiameterEntry>.Refused("WheelId", Shown(wheelId), "a wheel of the shop would be right");
        if (Wrong(typed) is { Count: > 0 } problems)
            return new SaveOutcome<DiameterEntry>.Refused(problems);
        DateTime now = clock.Now();
        DiameterEntry entry = new()
        {
            WheelId = wheelId,
            DiameterMm = typed.DiameterMm,
            UMm = typed.UMm,
            Cause = typed.Cause,
            HappenedAt = typed.HappenedAt ?? now,
            EnteredAt = now,
            CorrectsId = typed.CorrectsId,
            Withdrawn = typed.Withdrawn,
        };
        return await db.AddFactAsync(entry, d => d.WheelId == wheelId, seen, cancel);
    }

    /// <summary>Says where the rig stands now.</summary>
    public async Task<SaveOutcome<RigStand>> StandAsync(
        BookContext db, long rigId, long? wheelId, double dialledMm, DateTime? happenedAt = null, Seen seen = default, CancellationToken cancel = default)
    {
        FormCheck check = new();
        check.That(await db.Rigs.AnyAsync(r => r.Id == rigId, cancel), "RigId", rigId, "a rig of the shop would be right")
            .That(wheelId is null || await db.Wheels.AnyAsync(w => w.Id == wheelId && w.RigId == rigId, cancel), "WheelId", wheelId, "a wheel of this rig would be right")
            .Within("DialledMm", dialledMm, 0, 5000, "mm");
        if (!check.Passed)
            return new SaveOutcome<RigStand>.Refused(check.Problems);
        DateTime now = clock.Now();
        return await db.AddFactAsync(
            new RigStand { RigId = rigId, WheelId = wheelId, DialledMm = dialledMm, HappenedAt = happenedAt ?? now, EnteredAt = now }, s => s.RigId == rigId, seen, cancel);
    }

    /// <summary>Adds an abrasive or strop.</summary>
    public async Task<SaveOutcome<AbrasiveKept>> AddAbrasiveAsync(BookContext db, AbrasiveTyped typed, CancellationToken cancel = default)
    {
        if (typed.Check() is { Passed: false } check)
            return new SaveOutcome<AbrasiveKept>.Refused(check.Problems);
        AbrasiveKept kept = new() { Name = "" };
        typed.Put(kept);
        return await AddAsync(db, kept, cancel);
    }

    /// <summary>Edits an abrasive as the form saw it.</summary>
    public async Task<SaveOutcome<AbrasiveKept>> EditAbrasiveAsync(BookContext db, long id, int seen, AbrasiveTyped typed, CancellationToken cancel = default) =>
        typed.Check() is { Passed: false } check ? new SaveOutcome<AbrasiveKept>.Refused(check.Problems) : await db.EditAsync<AbrasiveKept>(id, seen, typed.Put, cancel);

    /// <summary>Enters a calibration: a fact; the newest of a name is the instrument.</summary>
    /// <param name="db">The write's context.</param>
    /// <param name="name">The instrument.</param>
    /// <param name="instrumentJson">Our instrument format.</param>
    /// <param name="targetJson">Its printed target; null where its marks are read on another scale.</param>
    /// <param name="how">"typed", "step", "zero", "print", "spacer", "roll".</param>
    /// <param name="seen">What the form had seen of this instrument.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<SaveOutcome<InstrumentKept>> CalibrateAsync(
        BookContext db, string? name, string instrumentJson, string? targetJson, string how, Seen seen = default, CancellationToken cancel = default)
    {
        FormCheck check = new FormCheck().Text("Name", name, "a name such as \"bench target\" would be right", 60);
        if (!check.Passed)
            return new SaveOutcome<InstrumentKept>.Refused(check.Problems);
        string plain = name!.Trim();
        DateTime now = clock.Now();
        return await db.AddFactAsync(
            new InstrumentKept { Name = plain, InstrumentJson = instrumentJson, TargetJson = targetJson, How = how, HappenedAt = now, EnteredAt = now }, i => i.Name == plain, seen, cancel);
    }

    /// <summary>Adds a house rule.</summary>
    public async Task<SaveOutcome<HouseRule>> AddRuleAsync(BookContext db, RuleTyped typed, CancellationToken cancel = default)
    {
        if (typed.Check() is { Passed: false } check)
            return new SaveOutcome<HouseRule>.Refused(check.Problems);
        HouseRule rule = new() { Name = "" };
        typed.Put(rule);
        return await AddAsync(db, rule, cancel);
    }

    /// <summary>Edits a house rule as the form saw it.</summary>
    public async Task<SaveOutcome<HouseRule>> EditRuleAsync(BookContext db, long id, int seen, RuleTyped typed, CancellationToken cancel = default) =>
        typed.Check() is { Passed: false } check ? new SaveOutcome<HouseRule>.Refused(check.Problems) : await db.EditAsync<HouseRule>(id, seen, typed.Put, cancel);

    /// <summary>Takes a house rule away; what it decided before stays as it was chosen.</summary>
    public async Task<SaveOutcome<HouseRule>> RemoveRuleAsync(BookContext db, long id, int seen, CancellationToken cancel = default)
    {
        SaveOutcome<HouseRule> outcome = await db.EditAsync<HouseRule>(id, seen, _ => { }, cancel);
        if (outcome is SaveOutcome<HouseRule>.Saved saved)
            db.HouseRules.Remove(saved.Value);
        return outcome;
    }

    /// <summary>Adds a line to the price list.</summary>
    public async Task<SaveOutcome<PriceLine>> AddPriceAsync(BookContext db, PriceTyped typed, CancellationToken cancel = default)
    {
        if (typed.Check() is { Passed: false } check)
            return new SaveOutcome<PriceLine>.Refused(check.Problems);
        PriceLine line = new() { Name = "" };
        typed.Put(line);
        return await AddAsync(db, line, cancel);
    }

    /// <summary>Edits a line of the price list as the form saw it. What was charged before keeps its amount.</summary>
    public async Task<SaveOutcome<PriceLine>> EditPriceAsync(BookContext db, long id, int seen, PriceTyped typed, CancellationToken cancel = default) =>
        typed.Check() is { Passed: false } check ? new SaveOutcome<PriceLine>.Refused(check.Problems) : await db.EditAsync<PriceLine>(id, seen, typed.Put, cancel);

    /// <summary>Adds a set that the shop lends.</summary>
    public async Task<SaveOutcome<LoanSet>> AddLoanSetAsync(BookContext db, string? name, int pieces, CancellationToken cancel = default)
    {
        FormCheck check = new FormCheck().Text("Name", name, "a name such as \"loan roll 1\" would be right", 60)
            .That(pieces is >= 1 and <= 500, "Pieces", pieces, "a count from 1 to 500 would be right");
        return check.Passed ? await AddAsync(db, new LoanSet { Name = name!.Trim(), Pieces = pieces }, cancel) : new SaveOutcome<LoanSet>.Refused(check.Problems);
    }

    private static async Task<SaveOutcome<T>> AddAsync<T>(BookContext db, T row, CancellationToken cancel)
        where T : class
    {
        db.Set<T>().Add(row);
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<T>.Saved(row);
    }

    private static IReadOnlyList<FieldProblem> Wrong(DiameterTyped typed) => typed.Withdrawn ? [] : new FormCheck()
        .Within(nameof(typed.DiameterMm), typed.DiameterMm, 10, 2000, "mm")
        .Within(nameof(typed.UMm), typed.UMm, 0.001, 50, "mm").Problems;

    private static async Task<IReadOnlyList<FieldProblem>> WrongAsync(BookContext db, long? id, RigTyped typed, CancellationToken cancel)
    {
        FormCheck check = new FormCheck().Text(nameof(typed.Name), typed.Name, "a name such as \"bench 1\" would be right", 60);
        string name = typed.Name?.Trim() ?? "";
        return check.That(!await db.Rigs.AnyAsync(r => r.Name == name && r.Id != id, cancel), nameof(typed.Name), typed.Name, "a name that no other rig has would be right").Problems;
    }

    private static async Task<IReadOnlyList<FieldProblem>> WrongAsync(BookContext db, long? id, WheelTyped typed, CancellationToken cancel)
    {
        FormCheck check = typed.Check();
        string name = typed.Name?.Trim() ?? "";
        return check
            .That(await db.Rigs.AnyAsync(r => r.Id == typed.RigId, cancel), nameof(typed.RigId), typed.RigId, "a rig of the shop would be right")
            .That(!await db.Wheels.AnyAsync(w => w.RigId == typed.RigId && w.Name == name && w.Id != id, cancel), nameof(typed.Name), typed.Name, "a name that no other wheel of this rig has would be right")
            .That(typed.AbrasiveId is null || await db.Abrasives.AnyAsync(a => a.Id == typed.AbrasiveId, cancel), nameof(typed.AbrasiveId), typed.AbrasiveId, "an abrasive of the shop would be right")
            .Problems;
    }

    private static string Shown(long value) => value.ToString(CultureInfo.InvariantCulture);
}
