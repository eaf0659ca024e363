using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Core.Blades;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

/// <summary>
/// A book of its own for each test, opened through its real door. Which store it is decides <see cref="TestStore"/> alone, so the same
/// specifications run on another one.
/// </summary>
public abstract class BookTest : IAsyncLifetime
{
    protected TestStore Store { get; } = TestStore.New();

    protected TestTime Time { get; } = new();

    protected ServiceProvider Services { get; private set; } = null!;

    protected BookWriter Writer => Get<BookWriter>();

    protected BookClock Clock => Get<BookClock>();

    protected BenchLog Log => Get<BenchLog>();

    public virtual async ValueTask InitializeAsync()
    {
        Services = Store.Services(Time);
        await Services.OpenBookAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await Services.DisposeAsync();
        Store.Dispose();
        GC.SuppressFinalize(this);
    }

    protected T Get<T>()
        where T : notnull => Services.GetRequiredService<T>();

    protected BookContext Db() => Get<IDbContextFactory<BookContext>>().CreateDbContext();

    protected async Task<T> Saved<T>(Func<BookContext, Task<SaveOutcome<T>>> write) =>
        await Writer.WriteAsync(write) switch
        {
            SaveOutcome<T>.Saved saved => saved.Value,
            SaveOutcome<T>.Refused refused => throw new InvalidOperationException(string.Join("; ", refused.Problems)),
            SaveOutcome<T>.Conflict conflict => throw new InvalidOperationException($"Conflict with {conflict.Theirs}"),
            _ => throw new InvalidOperationException(),
        };

    protected async Task<IReadOnlyList<FieldProblem>> Refused<T>(Func<BookContext, Task<SaveOutcome<T>>> write) =>
        Assert.IsType<SaveOutcome<T>.Refused>(await Writer.WriteAsync(write)).Problems;

    protected Task<Owner> Owner(string name = "Ines Albrecht", string? phone = "+49 170 555 0199", bool account = false) =>
        Saved(db => Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = name, Phone = phone, IsAccount = account }));

    protected Task<Piece> Piece(long ownerId, string name = "long kitchen knife", double? lengthMm = 210, PieceKind kind = PieceKind.DoubleBevel) =>
        Saved(db => Get<PieceDesk>().AddAsync(db, new PieceForm { OwnerId = ownerId, Name = name, LengthMm = lengthMm, Kind = kind }));

    protected async Task<VisitTag> TakenIn(Piece piece, DateOnly? promised = null, string? place = null) =>
        (await Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm
        {
            OwnerId = piece.OwnerId,
            Pieces = [new PieceIntake { PieceId = piece.Id, PromisedFor = promised, Place = place }],
        }))).Visits[0];

    protected async Task<VisitTag> Visit() => await TakenIn(await Piece((await Owner()).Id));

    protected Task<T> Add<T>(T fact)
        where T : VisitFact => Saved(db => Log.AddAsync(db, fact));

    protected async Task<WheelKept> Wheel(string name = "coarse wheel")
    {
        await using BookContext db = Db();
        RigKept rig = new() { Name = "rig by the window", RigJson = "{}" };
        WheelKept wheel = new() { Name = name, Rig = rig };
        db.Wheels.Add(wheel);
        await db.SaveChangesAsync();
        return wheel;
    }

    protected Task<DiameterEntry> Diameter(long wheelId, double mm, long? corrects = null) => Saved(db => db.AddFactAsync(
        new DiameterEntry { WheelId = wheelId, DiameterMm = mm, UMm = 0.1, Cause = DiameterCause.Measured, HappenedAt = Clock.Now(), EnteredAt = Clock.Now(), CorrectsId = corrects },
        d => d.WheelId == wheelId));
}
