using System.Reflection;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Workbench.Demo;

/// <summary>What the demo made.</summary>
/// <param name="Owners">Owners.</param>
/// <param name="Pieces">Pieces.</param>
/// <param name="Visits">Visits.</param>
/// <param name="Here">Visits still open.</param>
public sealed record DemoMade(int Owners, int Pieces, int Visits, int Here);

/// <summary>
/// An invented shop over two years: owners, pieces, visits with readings, aims, settings, passes, checks, payments and complaints; wheels that wear and
/// are dressed. Seeded, so the same story each time; written through the book's own verbs, in the order it happened.
/// </summary>
public sealed class DemoShop
{
    private const int Seed = 20260307;
    private const int OwnerCount = 40, PieceCount = 90, Days = 730;

    private readonly IServiceProvider services;
    private readonly DemoClock clock;
    private readonly BookWriter writer;
    private readonly DemoChance chance = new(Seed);
    private readonly PriorityQueue<Func<DateTime, CancellationToken, Task>, (DateTime At, int Order)> story = new();
    private readonly Dictionary<long, List<DemoPiece>> owned = [];
    private readonly DateTime now;
    private DemoKit kit = null!;
    private DemoBench bench = null!;
    private int order;
    private int photographed;

    /// <summary>A shop in an opened, empty book.</summary>
    /// <param name="services">The book's verbs, made with this clock.</param>
    /// <param name="clock">Their clock.</param>
    /// <param name="now">The moment the story ends, UTC.</param>
    public DemoShop(IServiceProvider services, DemoClock clock, DateTime now)
    {
        (this.services, this.clock, this.now) = (services, clock, now);
        writer = Of<BookWriter>();
    }

    /// <summary>Fills the book.</summary>
    /// <param name="say">Progress, a line a quarter.</param>
    /// <param name="cancel">Gives up; what was written stays.</param>
    public async Task<DemoMade> FillAsync(Action<string> say, CancellationToken cancel = default)
    {
        DateTime begin = now.Date.AddDays(-Days).AddHours(7);
        clock.MoveTo(begin);
        kit = await DemoKit.SetUpAsync(writer, Of<KitDesk>(), begin, begin.AddDays(Days * 0.7));
        bench = new(kit, chance, Of<BenchLog>(), Of<KitDesk>(), Of<KitQuery>());
        await OwnersAsync(begin, cancel);
        WheelDays(begin);
        GaugeDays(begin);
        DateTime quarter = begin.AddDays(91);
        while (story.TryDequeue(out Func<DateTime, CancellationToken, Task>? happens, out (DateTime At, int Order) when) && when.At <= now)
        {
            cancel.ThrowIfCancellationRequested();
            clock.MoveTo(when.At);
            await happens(when.At, cancel);
            if (when.At >= quarter)
            {
                say(FormattableString.Invariant($"The invented shop has come to {quarter:yyyy-MM-dd} …"));
                quarter = quarter.AddDays(91);
            }
        }

        clock.MoveTo(now);
        await using BookContext db = await Of<IDbContextFactory<BookContext>>().CreateDbContextAsync(cancel);
        int visits = await db.Visits.CountAsync(cancel);
        return new(await db.Owners.CountAsync(cancel), await db.Pieces.CountAsync(cancel), visits, await db.Visits.CountAsync(v => v.HandBackId == null, cancel));
    }

    private T Of<T>()
        where T : notnull => services.GetRequiredService<T>();

    private void At(DateTime at, Func<DateTime, CancellationToken, Task> happens)
    {
        // Nobody writes down fractions of a minute.
        DateTime minute = new(at.Ticks / TimeSpan.TicksPerMinute * TimeSpan.TicksPerMinute, DateTimeKind.Utc);
        story.Enqueue(happens, (minute, order++));
    }

    private async Task OwnersAsync(DateTime begin, CancellationToken cancel)
    {
        List<(string Name, bool Account)> all = [.. DemoWords.Kitchens.Select(k => (k, true)), .. DemoWords.People.Select(p => (p, false))];
        int pieces = 0;
        for (int i = 0; i < OwnerCount; i++)
        {
            (string name, bool account) = all[i];
            OwnerForm form = new()
            {
                Name = name,
                Phone = chance.Of(0.8) ? $"000 555 {chance.Whole(1000, 9999)}" : null,
                Email = chance.Of(0.5) ? $"{name.Split([' ', ','])[0].ToLowerInvariant()}@example.org" : null,
                IsAccount = account,
                Note = account ? "invented; pays by statement" : null,
            };
            Owner owner = DemoKit.Saved(await writer.WriteAsync(db => Of<OwnerDesk>().AddAsync(db, form, cancel), cancel));
            int count = account ? 5 : i < OwnerCount - 5 ? chance.Whole(1, 3) : 1;
            count = Math.Min(count, PieceCount - pieces - (OwnerCount - 1 - i));
            if (i == OwnerCount - 1)
                count = PieceCount - pieces;
            pieces += count;
            owned[owner.Id] = [.. Enumerable.Range(0, count).Select(_ => DemoPiece.Make(chance.One(account ? DemoWords.Professional : DemoWords.Household), chance))];
            double every = account ? chance.Between(45, 90) : chance.Between(110, 260);
            for (double day = chance.Between(0, every); day < Days - 6; day += every * chance.Between(0.8, 1.25))
                Comes(begin, day, owner.Id, account);
            if (i % 5 == 0)
                Comes(begin, Days - chance.Between(0.3, 5.5), owner.Id, account);
        }
    }

    private void Comes(DateTime begin, double day, long owner, bool account)
    {
        DateTime at = WorkDay(begin.Date.AddDays(Math.Floor(day))).AddHours(chance.Between(8.2, 11.5));
        At(at, (when, cancel) => TakeInAsync(owner, account, when, [], cancel));
    }

    /// <summary>Takes in what the owner brings: everything the first time, most of it later; a complaint brings the one piece.</summary>
    private async Task TakeInAsync(long owner, bool account, DateTime at, IReadOnlyList<DemoPiece> about, CancellationToken cancel)
    {
        List<DemoPiece> brought = about.Count > 0 ? [.. about] : [.. owned[owner].Where(p => p.Kept is null || chance.Of(account ? 0.9 : 0.8))];
        await using (BookContext db = await Of<IDbContextFactory<BookContext>>().CreateDbContextAsync(cancel))
        {
            long[] here = await db.Visits.Where(v => v.HandBackId == null && v.Piece!.OwnerId == owner).Select(v => v.PieceId).ToArrayAsync(cancel);
            brought.RemoveAll(p => p.Kept is { } kept && here.Contains(kept.Id));
        }

        if (brought.Count == 0)
            return;
        bool complaint = about.Count > 0;
        foreach (DemoPiece piece in brought)
        {
            piece.LandMm += complaint ? 0.01 : chance.Between(0.02, 0.06);
            piece.ChipMm = !complaint && chance.Of(0.12) ? chance.Between(0.15, 0.6) : 0;
        }

        // In the last week some promises are kept too tight, so that the rack has something late to show.
        bool tight = (now - at).TotalDays < 7;
        DateOnly promised = DateOnly.FromDateTime(WorkDay(at.Date.AddDays(chance.Whole(2, 5) - (tight ? 2 : 0))));
        IntakeForm form = new()
        {
            OwnerId = owner,
            HappenedAt = at,
            Pieces = [.. brought.Select(p => Intake(p, promised, owner, complaint ? p.LastVisit : null))],
            DepositMinor = !account && !complaint && chance.Of(0.1) ? 1000 : null,
            DepositHow = "cash",
        };
        IntakeDone done = DemoKit.Saved(await writer.WriteAsync(db => Of<IntakeDesk>().TakeInAsync(db, form, cancel), cancel));
        DateTime work = WorkDay(at.Date.AddDays(chance.Whole(1, 3))).AddHours(chance.Between(8, 12));
        for (int i = 0; i < brought.Count; i++)
        {
            (DemoPiece piece, VisitTag visit) = (brought[i], done.Visits[i]);
            piece.LastVisit = visit.VisitId;
            if (piece.Kept is null)
            {
                await using BookContext db = await Of<IDbContextFactory<BookContext>>().CreateDbContextAsync(cancel);
                piece.Kept = await db.Pieces.AsNoTracking().SingleAsync(p => p.Id == visit.PieceId, cancel);
            }

            // What is on the bench when the story ends stands half-way.
            bool unfinished = (now - work).TotalDays is >= 0 and < 1.6;
            BenchStep last = unfinished ? (BenchStep)(i % 6) : BenchStep.Check;
            At(work.AddMinutes(i * 26), (when, c) => WorkAsync(visit.VisitId, piece, when, last, c));
        }

        DateTime ready = work.AddMinutes(brought.Count * 26).AddMinutes(10);
        At(ready, (when, c) => TellAsync([.. done.Visits.Select(v => v.VisitId)], when, c));
        bool forgets = chance.Of(0.02);
        DateTime fetched = WorkDay(ready.Date.AddDays(forgets ? 140 : chance.Whole(1, 6))).AddHours(chance.Between(15, 18));
        At(fetched, (when, c) => FetchAsync(owner, account, done, brought, complaint, when, c));
    }

    private PieceIntake Intake(DemoPiece piece, DateOnly promised, long owner, long? about)
    {
        PieceForm? made = piece.Kept is null ? new() { Kind = piece.Pattern.Kind, Name = piece.Pattern.Name, LengthMm = piece.LengthMm, Steel = chance.Of(0.3) ? "stainless (invented)" : null } : null;
        List<ChargeForm> charges = [];
        if (about is null)
        {
            PriceLine? line = PriceList.Choose(kit.Prices, piece.Pattern.Kind, piece.LengthMm, owner);
            if (line is not null)
                charges.Add(Charge(line));
            if (piece.ChipMm > 0)
                charges.Add(Charge(kit.Prices.First(p => p.Name == "Chip")));
        }

        return new()
        {
            PieceId = piece.Kept?.Id,
            NewPiece = made,
            PromisedFor = promised,
            Place = $"Shelf {chance.Whole(1, 4)}",
            Wishes = about is null ? chance.Of(0.4) ? chance.One(DemoWords.Wishes) : null : chance.One(DemoWords.Complaints),
            Damage = piece.ChipMm > 0.3 ? "chip near the tip" : null,
            DamageAcknowledged = piece.ChipMm > 0.3,
            ComplaintAboutId = about,
            Charges = charges,
        };
    }

    private static ChargeForm Charge(PriceLine line) => new() { Text = line.Name, AmountMinor = line.AmountMinor, TaxMilliPercent = 19_000, PriceLineId = line.Id, Minutes = line.Minutes };

    private async Task WorkAsync(long visit, DemoPiece piece, DateTime at, BenchStep last, CancellationToken cancel)
    {
        await writer.WriteAsync(db => bench.WorkAsync(db, visit, piece, at, last, cancel), cancel);
        if (photographed < 6 && chance.Of(0.08))
        {
            photographed++;
            (string name, PhotoSubject subject) = photographed % 2 == 0 ? ("demo/outline.jpg", PhotoSubject.Outline) : ("demo/marks.jpg", PhotoSubject.Marks);
            await using Stream photo = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!;
            await writer.WriteAsync(db => Of<IPhotoStore>().PutAsync(db, photo, new(subject, visit, at), cancel), cancel);
        }
    }

    private async Task TellAsync(IReadOnlyList<long> visits, DateTime at, CancellationToken cancel)
    {
        string how = chance.One((string[])["sms", "mail", "call"]);
        foreach (long visit in visits)
            await writer.WriteAsync(db => Of<BenchLog>().AddAsync(db, new ReadyNotice { VisitId = visit, How = how, HappenedAt = at, EnteredAt = at }, cancel: cancel), cancel);
    }

    private async Task FetchAsync(long owner, bool account, IntakeDone done, IReadOnlyList<DemoPiece> brought, bool complaint, DateTime at, CancellationToken cancel)
    {
        long[] ids = [.. done.Visits.Select(v => v.VisitId)];
        long due;
        await using (BookContext db = await Of<IDbContextFactory<BookContext>>().CreateDbContextAsync(cancel))
        {
            due = await db.Charges.Where(c => ids.Contains(c.VisitId)).SumAsync(c => c.AmountMinor, cancel)
                - await db.Payments.Where(p => p.IntakeId == done.IntakeId).SumAsync(p => p.AmountMinor, cancel);
        }

        PaymentForm? paid = due > 0 && !account ? new() { OwnerId = owner, IntakeId = done.IntakeId, AmountMinor = due, How = chance.Of(0.6) ? "card" : "cash" } : null;
        HandBackForm form = new()
        {
            VisitIds = ids,
            HappenedAt = at,
            Payment = paid,
            EdgeNotes = done.Visits.ToDictionary(v => v.VisitId, _ => "Ground and checked. Hand wash, dry, keep it in a block."),
        };
        DemoKit.Saved(await writer.WriteAsync(db => Of<HandBackDesk>().HandBackAsync(db, form, cancel), cancel));
        if (account && due > 0)
        {
            At(at.AddDays(chance.Whole(12, 30)), async (when, c) => await writer.WriteAsync(
                db => Of<Till>().TakeAsync(db, new() { OwnerId = owner, AmountMinor = due, How = "transfer", HappenedAt = when }, c), c));
        }

        if (!complaint && chance.Of(0.03))
        {
            DemoPiece piece = chance.One(brought);
            At(WorkDay(at.Date.AddDays(chance.Whole(4, 12))).AddHours(9), (when, c) => TakeInAsync(owner, account, when, [piece], c));
        }
    }

    /// <summary>Every other week a wheel is measured, about every sixth week dressed; the rates fall and the true diameter shrinks meanwhile.</summary>
    private void WheelDays(DateTime begin)
    {
        foreach (long wheel in kit.OnRig[kit.BarRig].Select(o => o.Wheel!.Value))
        {
            int times = 0;
            for (double day = 14; day < Days; day += chance.Between(12, 16))
            {
                bool dressed = ++times % 3 == 0;
                At(WorkDay(begin.Date.AddDays(Math.Floor(day))).AddHours(7.5), (when, cancel) => MeasureAsync(wheel, dressed, when, cancel));
            }
        }
    }

    /// <summary>A gauge study after half a year; the angle block each month.</summary>
    private void GaugeDays(DateTime begin)
    {
        DemoGauges gauges = new(Of<GaugeDesk>(), Seed + 1);
        At(WorkDay(begin.Date.AddDays(180)).AddHours(16.5), async (when, cancel) => DemoKit.Saved(await writer.WriteAsync(db => gauges.StudyAsync(db, when, cancel), cancel)));
        for (int day = 10; day < Days; day += 30)
        {
            double years = day / 365.0;
            At(WorkDay(begin.Date.AddDays(day)).AddHours(7.2), async (when, cancel) => DemoKit.Saved(await writer.WriteAsync(db => gauges.CheckAsync(db, when, years, cancel), cancel)));
        }
    }

    private async Task MeasureAsync(long wheel, bool dressed, DateTime at, CancellationToken cancel)
    {
        if (dressed)
            kit.TrueMm[wheel] -= chance.Between(0.25, 0.6);
        double seen = Math.Round(kit.TrueMm[wheel] + chance.Normal(0.08), 1);
        DiameterTyped typed = new() { DiameterMm = seen, UMm = 0.2, Cause = dressed ? DiameterCause.Dressed : DiameterCause.Measured, HappenedAt = at };
        DemoKit.Saved(await writer.WriteAsync(db => Of<KitDesk>().AddDiameterAsync(db, wheel, typed, cancel: cancel), cancel));
    }

    private static DateTime WorkDay(DateTime day)
    {
        DateTime on = day.Date;
        while (on.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday)
            on = on.AddDays(1);
        return on;
    }
}
