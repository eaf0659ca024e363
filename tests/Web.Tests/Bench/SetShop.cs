using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
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

/// <summary>A shop with the sample rig and an invented knife that is read, measured and has its edge chosen.</summary>
internal sealed class SetShop(RunningShop shop) : IAsyncDisposable
{
    private VisitTag taken = null!;
    private long pieceId;

    public RunningShop Shop => shop;

    public long RigId { get; private set; }

    /// <summary>Address of the visit.</summary>
    public string Address => "/bench/" + TagNumber.Format(taken.Tag);

    public BookWriter Writer => shop.Services.GetRequiredService<BookWriter>();

    /// <summary>Opens it.</summary>
    /// <param name="rig">Rig document; null for the sample's.</param>
    /// <param name="grip">Grip of the sample rig.</param>
    /// <param name="aimDeg">The edge chosen, both sides; null for none.</param>
    public static async Task<SetShop> OpenAsync(string? rig = null, string grip = "self-centring", double? aimDeg = 15)
    {
        SetShop made = new(await RunningShop.OpenAsync());
        await made.FillAsync(rig ?? await File.ReadAllTextAsync(Path.Combine(Repository.Root, "samples", "kitchen-knife", "rig.json")), grip);
        await made.ReadAndChooseAsync(aimDeg);
        return made;
    }

    /// <summary>Facts of a kind at the visit, corrected ones too, oldest first.</summary>
    public async Task<List<T>> FactsAsync<T>()
        where T : VisitFact
    {
        long visit = taken.VisitId;
        return await shop.BookAsync(db => db.Set<T>().Where(f => f.VisitId == visit).OrderBy(f => f.Id).ToListAsync());
    }

    /// <summary>Puts a fact of the visit into the book as another device would.</summary>
    public async Task<T> AddAsync<T>(Func<long, DateTime, T> fact)
        where T : VisitFact
    {
        BenchLog log = shop.Services.GetRequiredService<BenchLog>();
        DateTime now = shop.Services.GetRequiredService<BookClock>().Now();
        return Assert.IsType<SaveOutcome<T>.Saved>(await Writer.WriteAsync(db => log.AddAsync(db, fact(taken.VisitId, now)))).Value;
    }

    /// <summary>The coarse wheel is dressed.</summary>
    public async Task DressAsync(double diameterMm)
    {
        DateTime now = shop.Services.GetRequiredService<BookClock>().Now();
        await shop.BookAsync(async db =>
        {
            long wheel = await db.Set<WheelKept>().Where(w => w.Name == "coarse").Select(w => w.Id).FirstAsync();
            db.Diameters.Add(new DiameterEntry { WheelId = wheel, DiameterMm = diameterMm, UMm = 0.2, Cause = DiameterCause.Dressed, HappenedAt = now, EnteredAt = now });
            return await db.SaveChangesAsync();
        });
    }

    /// <summary>The coarse wheel was measured twice, the last time three weeks ago (2 mm smaller than 60 days ago), and ground 20,000 mm³ of an invented blade yesterday.</summary>
    public async Task WearAsync()
    {
        DateTime now = shop.Services.GetRequiredService<BookClock>().Now(), measured = now.AddDays(-21), yesterday = now.AddDays(-1);
        IntakeDesk desk = shop.Services.GetRequiredService<IntakeDesk>();
        long owner = await shop.BookAsync(db => db.Pieces.Where(p => p.Id == pieceId).Select(p => p.OwnerId).FirstAsync());
        var other = (SaveOutcome<IntakeDone>.Saved)await Writer.WriteAsync(db => desk.TakeInAsync(db, new() { OwnerId = owner, HappenedAt = yesterday, Pieces = [new() { NewPiece = new() { Name = "Cleaver, invented", Kind = PieceKind.DoubleBevel, LengthMm = 200 } }] }));
        long visit = other.Value.Visits[0].VisitId;
        await shop.BookAsync(async db =>
        {
            WheelKept wheel = await db.Set<WheelKept>().FirstAsync(w => w.Name == "coarse");
            DiameterEntry last = await db.Diameters.FirstAsync(d => d.WheelId == wheel.Id);
            await db.Diameters.Where(d => d.Id == last.Id).ExecuteUpdateAsync(d => d.SetProperty(e => e.HappenedAt, measured));
            db.Diameters.Add(new DiameterEntry { WheelId = wheel.Id, DiameterMm = last.DiameterMm + 2, UMm = 0.2, Cause = DiameterCause.New, HappenedAt = now.AddDays(-60), EnteredAt = now.AddDays(-60) });
            db.Aims.Add(new AimChosen
            {
                VisitId = visit, Source = TargetSource.Own, LeftDeg = 15, RightDeg = 15, ToleranceDeg = 0.5, HappenedAt = yesterday, EnteredAt = yesterday,
                SectionJson = """{"removedMm3":20000,"sides":{"left":{"removedMm2":50},"right":{"removedMm2":50}}}""",
            });
            db.Passes.Add(new Passes { VisitId = visit, AbrasiveId = wheel.AbrasiveId, WheelId = wheel.Id, Side = "both", Count = 200, Stage = 1, HappenedAt = yesterday, EnteredAt = yesterday });
            return await db.SaveChangesAsync();
        });
    }

    /// <summary>Handed back and brought again: a returning piece.</summary>
    public async Task ComeAgainAsync()
    {
        await shop.BookAsync(async db =>
        {
            Visit visit = await db.Visits.FirstAsync(v => v.Id == taken.VisitId);
            DateTime now = shop.Services.GetRequiredService<BookClock>().Now();
            HandBack gone = new() { VisitId = visit.Id, HappenedAt = now, EnteredAt = now };
            db.HandBacks.Add(gone);
            await db.SaveChangesAsync();
            visit.HandBackId = gone.Id;
            return await db.SaveChangesAsync();
        });
        IntakeDesk desk = shop.Services.GetRequiredService<IntakeDesk>();
        long owner = await shop.BookAsync(db => db.Pieces.Where(p => p.Id == pieceId).Select(p => p.OwnerId).FirstAsync());
        var done = (SaveOutcome<IntakeDone>.Saved)await Writer.WriteAsync(db => desk.TakeInAsync(db, new() { OwnerId = owner, Pieces = [new() { PieceId = pieceId }] }));
        taken = done.Value.Visits[0];
    }

    /// <summary>A file that the shop serves.</summary>
    public async Task<byte[]> FileAsync(string path)
    {
        using HttpClient client = shop.Client();
        return await client.GetByteArrayAsync(new Uri(Address + path, UriKind.Relative));
    }

    /// <summary>What the command line says of the same, as JSON.</summary>
    public static JsonElement Cli(params string[] args)
    {
        Told terminal = new();
        Application.Run([.. args, "--json"], terminal);
        using JsonDocument document = JsonDocument.Parse(terminal.Output.ToString()!);
        return document.RootElement.Clone();
    }

    public ValueTask DisposeAsync() => shop.DisposeAsync();

    private async Task FillAsync(string rigJson, string grip)
    {
        OwnerDesk owners = shop.Services.GetRequiredService<OwnerDesk>();
        IntakeDesk desk = shop.Services.GetRequiredService<IntakeDesk>();
        BookClock clock = shop.Services.GetRequiredService<BookClock>();
        var owner = (SaveOutcome<Owner>.Saved)await Writer.WriteAsync(db => owners.AddAsync(db, new() { Name = "Ines Maru" }));
        var done = (SaveOutcome<IntakeDone>.Saved)await Writer.WriteAsync(db => desk.TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces = [new() { NewPiece = new() { Name = "Long kitchen knife, black handle", Kind = PieceKind.DoubleBevel, LengthMm = 210 }, Wishes = "Slices tomatoes without pressing" }],
        }));
        taken = done.Value.Visits[0];
        DateTime now = clock.Now();
        await shop.BookAsync(async db =>
        {
            pieceId = await db.Visits.Where(v => v.Id == taken.VisitId).Select(v => v.PieceId).FirstAsync();
            JsonObject rig = JsonNode.Parse(rigJson)!.AsObject();
            JsonArray wheels = rig["wheels"] as JsonArray ?? [];
            rig.Remove("wheels");
            rig.Remove("now");
            if ((string?)rig["kind"] == "wheel-and-bar")
                rig["grip"] = grip;
            if (grip != "fixed-jaw")
                rig.Remove("fixedJawSide");
            RigKept kept = new() { Name = "bench 1", RigJson = rig.ToJsonString() };
            AbrasiveKept[] abrasives =
            [
                new() { Name = "coarse grit", Form = AbrasiveForm.Wheel, System = "fepa-f", Grade = "220", AreaPerPassMm2 = 0.004, ChangeMinutes = 1, Order = 1 },
                new() { Name = "fine grit", Form = AbrasiveForm.Wheel, System = "jis", Grade = "1000", AreaPerPassMm2 = 0.0004, ChangeMinutes = 2, Order = 2 },
                new() { Name = "leather, compound", Form = AbrasiveForm.HoningWheel, Order = 3 },
                new() { Name = "hanging strop", Form = AbrasiveForm.Strop, Order = 4 },
            ];
            db.Abrasives.AddRange(abrasives);
            db.Rigs.Add(kept);
            await db.SaveChangesAsync();
            RigId = kept.Id;
            for (int i = 0; i < wheels.Count; i++)
            {
                JsonNode w = wheels[i]!;
                WheelKept wheel = new() { Name = (string)w["name"]!, RigId = kept.Id, AbrasiveId = abrasives[i].Id, OffsetDeg = (double?)w["offsetDeg"] ?? 0, Rpm = (double?)w["rpm"], MarkedLimitMs = (double?)w["markedLimitMs"] };
                db.Add(wheel);
                await db.SaveChangesAsync();
                db.Diameters.Add(new DiameterEntry { WheelId = wheel.Id, DiameterMm = (double)w["diameterMm"]!, UMm = (double)w["diameterUMm"]!, HappenedAt = now, EnteredAt = now });
                if (i == 0)
                    db.RigStands.Add(new RigStand { RigId = kept.Id, WheelId = wheel.Id, DialledMm = 176.2, HappenedAt = now, EnteredAt = now });
            }

            return await db.SaveChangesAsync();
        });
    }

    private async Task ReadAndChooseAsync(double? aimDeg)
    {
        JsonNode blade = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(Repository.Root, "samples", "kitchen-knife", "blade.json")))!;
        await AddAsync((visit, now) => new OutlineTaken { VisitId = visit, HappenedAt = now, EnteredAt = now, LengthMm = 212, HeightMm = 47, ResultJson = new JsonObject { ["edgeMm"] = blade["edgeMm"]!.DeepClone() }.ToJsonString(), Method = "typed" });
        await AddAsync((visit, now) => new SectionMeasured { VisitId = visit, HappenedAt = now, EnteredAt = now, BehindEdgeMm = 0.38, PrimaryHalfDeg = 2.2, LandMm = 0.03, ChipMm = 0.4, HeightMm = 47, SpineMm = 2.1 });
        await AddAsync((visit, now) => new Reading
        {
            VisitId = visit, HappenedAt = now, EnteredAt = now, Purpose = ReadingPurpose.Found, MountIds = [], Method = "optics.bevel-from-mark", MethodVersion = "1", InputsJson = """{"marks":{}}""",
            ResultJson = "{}", Outcome = "read", IncludedDeg = 34.4, IncludedUDeg = 0.2, LeftDeg = 17.4, LeftUDeg = 0.2, RightDeg = 17.0, RightUDeg = 0.2,
        });
        if (aimDeg is { } deg)
            await AddAsync((visit, now) => new AimChosen { VisitId = visit, HappenedAt = now, EnteredAt = now, Source = TargetSource.Own, LeftDeg = deg, RightDeg = deg, ToleranceDeg = 0.5 });
    }

    private sealed class Told : ITerminal
    {
        public TextWriter Output { get; } = new StringWriter(CultureInfo.InvariantCulture);

        public TextWriter Error { get; } = new StringWriter(CultureInfo.InvariantCulture);

        public TextReader Input { get; } = new StringReader("");

        public int Width => 100;
    }
}

/// <summary>What a person does more than once while setting and grinding.</summary>
internal static class AtTheRig
{
    /// <summary>A picture, and what holds on every page.</summary>
    public static async Task LookOverAsync(this Visitor visitor, string name)
    {
        await visitor.PictureAsync("bench-" + name);
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        visitor.AssertNoComplaints();
    }

    /// <summary>Dials the best clamp.</summary>
    public static async Task DialAsync(this Visitor visitor, SetShop shop)
    {
        await visitor.GoAsync(shop.Address + "/set");
        await visitor.TapAsync("Dialled");
        await visitor.Page.GetByText("Dialled. Now touch off.").WaitForAsync();
    }

    /// <summary>Types the touch-off as expected, plus so much.</summary>
    public static async Task TypeTouchOffAsync(this Visitor visitor, double moreMm = 0)
    {
        string hint = await visitor.WordsAsync("#f-measured-hint");
        double expected = double.Parse(System.Text.RegularExpressions.Regex.Match(hint, @"[0-9]+\.[0-9]").Value, CultureInfo.InvariantCulture);
        await visitor.TypeAsync("Touch-off, measured", (expected + moreMm).ToString("0.0", CultureInfo.InvariantCulture));
    }
}
