using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Blades;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

/// <summary>A shop with one invented knife taken in, a house rule and, where asked, the calibrated target of the samples.</summary>
internal sealed class BenchShop(RunningShop shop, VisitTag taken) : IAsyncDisposable
{
    public RunningShop Shop => shop;

    public long VisitId => taken.VisitId;

    /// <summary>Address of the visit.</summary>
    public string Address => "/bench/" + TagNumber.Format(taken.Tag);

    public static string Sample(params string[] parts) => Path.Combine([Repository.Root, "samples", .. parts]);

    public static async Task<BenchShop> OpenAsync(PieceKind kind = PieceKind.DoubleBevel, bool instrument = false)
    {
        RunningShop shop = await RunningShop.OpenAsync();
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        OwnerDesk owners = shop.Services.GetRequiredService<OwnerDesk>();
        IntakeDesk desk = shop.Services.GetRequiredService<IntakeDesk>();
        BookClock clock = shop.Services.GetRequiredService<BookClock>();
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => owners.AddAsync(db, new() { Name = "Ines Maru" }));
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => desk.TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces =
            [
                new()
                {
                    NewPiece = new() { Name = "Long kitchen knife, black handle", Kind = kind, LengthMm = 210, Steel = "stamped 1.4116" },
                    PromisedFor = clock.Today(TimeZoneInfo.Utc).AddDays(2),
                    Wishes = "Slices tomatoes without pressing; keep the angle if it is sound",
                    Damage = "Tip bent by a millimetre, a chip near the heel",
                    DamageAcknowledged = true,
                },
            ],
        }));
        await using BookContext db = await shop.Services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        db.HouseRules.Add(new HouseRule { Name = "kitchen, thin", Kind = PieceKind.DoubleBevel, AngleDeg = 15, ToleranceDeg = 0.5, Order = 1 });
        if (instrument)
        {
            DateTime now = clock.Now();
            db.Instruments.Add(new InstrumentKept
            {
                Name = "Bench target", How = "step", HappenedAt = now, EnteredAt = now,
                InstrumentJson = await File.ReadAllTextAsync(Sample("kitchen-knife", "instrument.json")), TargetJson = await File.ReadAllTextAsync(Sample("photos", "target.json")),
            });
        }

        await db.SaveChangesAsync();
        return new(shop, done.Value.Visits[0]);
    }

    /// <summary>Facts of a kind at the visit, corrected ones too, oldest first.</summary>
    public async Task<List<T>> FactsAsync<T>()
        where T : VisitFact
    {
        await using BookContext db = await shop.Services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        return await db.Set<T>().Where(f => f.VisitId == taken.VisitId).OrderBy(f => f.Id).ToListAsync();
    }

    /// <summary>Puts a fact into the book as another device would.</summary>
    public async Task AddAsync<T>(Func<long, DateTime, T> fact)
        where T : VisitFact
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        BenchLog log = shop.Services.GetRequiredService<BenchLog>();
        DateTime now = shop.Services.GetRequiredService<BookClock>().Now();
        Assert.IsType<SaveOutcome<T>.Saved>(await writer.WriteAsync(db => log.AddAsync(db, fact(taken.VisitId, now))));
    }

    /// <summary>Handed back and brought again; what was not taken back stays known. The shop is the same.</summary>
    public async Task<BenchShop> ComeAgainAsync()
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        HandBackDesk back = shop.Services.GetRequiredService<HandBackDesk>();
        IntakeDesk desk = shop.Services.GetRequiredService<IntakeDesk>();
        await writer.WriteAsync(db => back.HandBackAsync(db, new() { VisitIds = [taken.VisitId] }));
        (long piece, long owner) = await shop.BookAsync(async db => (taken.PieceId, await db.Pieces.Where(p => p.Id == taken.PieceId).Select(p => p.OwnerId).FirstAsync()));
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => desk.TakeInAsync(db, new() { OwnerId = owner, Pieces = [new() { PieceId = piece }] }));
        return new(shop, done.Value.Visits[0]);
    }

    /// <summary>The section of the sample knife, measured.</summary>
    public Task MeasureAsync() => AddAsync((visit, now) => new SectionMeasured
    {
        VisitId = visit, HappenedAt = now, EnteredAt = now, BehindEdgeMm = 0.35, PrimaryHalfDeg = 2.2, LandMm = 0.03, HeightMm = 44, SpineMm = 2.2,
    });

    /// <summary>What the command line says of the same, as JSON.</summary>
    public static JsonElement Cli(params string[] args)
    {
        Told terminal = new();
        Application.Run([.. args, "--json"], terminal);
        using JsonDocument document = JsonDocument.Parse(terminal.Output.ToString()!);
        return document.RootElement.Clone();
    }

    public ValueTask DisposeAsync() => shop.DisposeAsync();

    private sealed class Told : ITerminal
    {
        public TextWriter Output { get; } = new StringWriter();

        public TextWriter Error { get; } = new StringWriter();

        public TextReader Input { get; } = new StringReader("");

        public int Width => 100;
    }
}

/// <summary>What a person at the bench does more than once.</summary>
internal static class AtTheBench
{
    /// <summary>A picture, and what holds on every page.</summary>
    public static async Task LookAsync(this Visitor visitor, string name)
    {
        await visitor.Page.WaitForLoadStateAsync(Microsoft.Playwright.LoadState.NetworkIdle);
        await visitor.PictureAsync("bench-" + name);
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        visitor.AssertNoComplaints();
    }

    /// <summary>Types the marks of samples/kitchen-knife/marks.json.</summary>
    public static async Task TypeSampleMarksAsync(this Visitor visitor)
    {
        await visitor.TypeAsync("Left, edge", "16,5; 16.5; 17");
        await visitor.TypeAsync("Left, primary", "3");
        await visitor.TypeAsync("Right, edge", "18.5; 19; 18.5");
        await visitor.TypeAsync("Right, primary", "4.5");
        await visitor.Page.GetByText("Turned end for end: a second placing").ClickAsync();
        await visitor.TapAsync(visitor.Page.Locator("label.segment", new() { Has = visitor.Page.Locator("input[name='m1-tip'][value='down']") }));
        await visitor.TypeAsync("Left, edge, placing 2", "17; 17; 17.5");
        await visitor.TypeAsync("Left, primary, placing 2", "3");
        await visitor.TypeAsync("Right, edge, placing 2", "18 18 18.5");
        await visitor.TypeAsync("Right, primary, placing 2", "4.5");
        await visitor.Page.GetByText("Scale and distance", new() { Exact = true }).ClickAsync();
        await visitor.TypeAsync("The degree scale was printed for", "100");
    }

    /// <summary>Reads the sample photographs: lit, dark, turned.</summary>
    public static async Task SendPhotosAsync(this Visitor visitor, BenchShop shop)
    {
        await visitor.GoAsync(shop.Address + "/read/photo");
        foreach ((string field, string file) in new[] { ("#f-lit", "photo.jpg"), ("#f-dark", "photo_dark.jpg"), ("#f-turned", "photo_turned.jpg") })
            await visitor.Page.Locator(field).SetInputFilesAsync(BenchShop.Sample("photos", "normal", file));
        await visitor.TapAsync("Read the photo");
        await Microsoft.Playwright.Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Read", new() { Timeout = 30_000 });
        await Microsoft.Playwright.Assertions.Expect(visitor.Page.Locator(".dial-value").First).ToBeVisibleAsync();
    }
}
