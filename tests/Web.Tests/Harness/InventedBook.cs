using Microsoft.Extensions.DependencyInjection;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Workbench;

namespace Whetwright.Web.Tests.Harness;

/// <summary>An invented owner with an invented knife that came three times: read, ground, checked, photographed, paid for; one entry corrected.</summary>
internal sealed class InventedBook
{
    private InventedBook(long owner, long piece, IReadOnlyList<VisitTag> visits, string photo) => (OwnerId, PieceId, Visits, PhotoHash) = (owner, piece, visits, photo);

    /// <summary>The owner.</summary>
    public long OwnerId { get; }

    /// <summary>The knife.</summary>
    public long PieceId { get; }

    /// <summary>Its visits, the oldest first; the last is open.</summary>
    public IReadOnlyList<VisitTag> Visits { get; }

    /// <summary>A photo of the oldest visit.</summary>
    public string PhotoHash { get; }

    /// <summary>Tag of the open visit.</summary>
    public string OpenTag => TagNumber.Format(Visits[^1].Tag);

    /// <summary>Marks read by eye, our sample's.</summary>
    public static string Marks { get; } = File.ReadAllText(Path.Combine(Repository.Root, "samples", "kitchen-knife", "marks.json"));

    public static async Task<InventedBook> FillAsync(RunningShop shop)
    {
        IServiceProvider services = shop.Services;
        BookWriter writer = services.GetRequiredService<BookWriter>();
        DateTime now = services.GetRequiredService<BookClock>().Now();
        Owner owner = await Saved(writer, db => services.GetRequiredService<OwnerDesk>().AddAsync(db, new()
        {
            Name = "Orla Vance, invented", Phone = "0151 000 117", Email = "orla@example.org", Address = "1 Invented Row\nNowhere", IsAccount = true,
        }));
        List<VisitTag> visits = [];
        long? piece = null;
        string photo = "";
        foreach ((int days, int i) in new[] { 400, 200, 2 }.Select((d, i) => (d, i)))
        {
            DateTime at = now.AddDays(-days);
            IntakeDone taken = await Saved(writer, db => services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new()
            {
                OwnerId = owner.Id,
                HappenedAt = at,
                DepositMinor = i == 1 ? 500 : null,
                DepositHow = i == 1 ? "cash" : null,
                Pieces =
                [
                    new()
                    {
                        PieceId = piece,
                        NewPiece = piece is null ? new() { OwnerId = owner.Id, Name = "Carving knife, horn handle", Kind = PieceKind.DoubleBevel, LengthMm = 240, Steel = "carbon" } : null,
                        PromisedFor = DateOnly.FromDateTime(at.AddDays(3)),
                        Wishes = "Keep it thin",
                        Charges = [new() { Text = "Knife to 25 cm", AmountMinor = 1190, TaxMilliPercent = 19000, Minutes = 15 }, new() { Text = "Guide booklet", AmountMinor = 214, TaxMilliPercent = 7000 }],
                    },
                ],
            }));
            VisitTag visit = taken.Visits[0];
            visits.Add(visit);
            piece ??= visit.PieceId;
            string kept = await WorkAsync(services, visit.VisitId, at, i);
            photo = photo.Length == 0 ? kept : photo;
            if (i < 2)
            {
                await Saved(writer, db => services.GetRequiredService<HandBackDesk>().HandBackAsync(db, new()
                {
                    VisitIds = [visit.VisitId],
                    HappenedAt = at.AddDays(1),
                    Payment = new() { OwnerId = owner.Id, VisitId = visit.VisitId, AmountMinor = i == 1 ? 904 : 1404, How = "card" },
                }));
            }
        }

        return new(owner.Id, piece!.Value, visits, photo);
    }

    private static async Task<string> WorkAsync(IServiceProvider services, long visit, DateTime at, int i)
    {
        BookWriter writer = services.GetRequiredService<BookWriter>();
        BenchLog log = services.GetRequiredService<BenchLog>();
        Assert.True(EyeReading.TryRead(Marks, null, out CombinedReading? reading, out _));
        string inputs = TypedMarks.Inputs(Marks, null);
        await Add(EyeReading.ToFact(reading!, inputs, BenchReading.Method, new(visit, ReadingPurpose.Found, [], at.AddMinutes(10), at.AddMinutes(10))));
        await Add(new SectionMeasured { VisitId = visit, BehindEdgeMm = 0.3 + (0.05 * i), PrimaryHalfDeg = 2, LandMm = 0.03, HappenedAt = at.AddMinutes(12), EnteredAt = at.AddMinutes(12) });
        AimChosen first = await Add(new AimChosen { VisitId = visit, Source = TargetSource.Own, LeftDeg = 17, RightDeg = 17, ToleranceDeg = 0.5, HappenedAt = at.AddMinutes(20), EnteredAt = at.AddMinutes(20) });
        if (i == 0)
            await Add(new AimChosen { VisitId = visit, Source = TargetSource.Own, LeftDeg = 15, RightDeg = 15, ToleranceDeg = 0.5, CorrectsId = first.Id, HappenedAt = at.AddMinutes(20), EnteredAt = at.AddHours(3) });
        await Add(new Passes { VisitId = visit, AbrasiveId = 1, Side = "both", Count = 12, Stage = 1, HappenedAt = at.AddMinutes(40), EnteredAt = at.AddMinutes(40) });
        await Add(new OutlineTaken
        {
            VisitId = visit, LengthMm = 240, HeightMm = 48 - (0.6 * i), ResultJson = Outline(0.6 * i, 0.05 * i, 300 + (10 * i)), Method = "invented", HappenedAt = at.AddMinutes(45), EnteredAt = at.AddMinutes(45),
        });
        if (i < 2)
        {
            await Add(EyeReading.ToFact(reading!, inputs, BenchReading.Method, new(visit, ReadingPurpose.Check, [], at.AddMinutes(60), at.AddMinutes(60))));
            await Add(new CutTest { VisitId = visit, Medium = "thin paper", Heel = "clean", Middle = "clean", Tip = "catches", HappenedAt = at.AddMinutes(65), EnteredAt = at.AddMinutes(65) });
        }

        await using FileStream bytes = File.OpenRead(Path.Combine(Repository.Root, "samples", "mats", i == 0 ? "photo.jpg" : "photo2.jpg"));
        Photo photo = await Saved(writer, db => services.GetRequiredService<IPhotoStore>().PutAsync(db, bytes, new(PhotoSubject.Outline, visit, at.AddMinutes(44))));
        return photo.Hash;

        Task<T> Add<T>(T fact)
            where T : VisitFact => Saved(writer, db => log.AddAsync(db, fact));
    }

    /// <summary>A plain blade with a handle, laid on the mat at a slant, its edge worn down.</summary>
    /// <param name="wornMm">How much of the height is gone.</param>
    /// <param name="slantRad">How it lies.</param>
    /// <param name="shiftMm">Where it lies.</param>
    internal static string Outline(double wornMm, double slantRad, double shiftMm)
    {
        Point2[] edge = [.. Enumerable.Range(0, 61).Select(i => new Point2(4.0 * i, (12 * Math.Sin(Math.PI * i / 60)) - wornMm))];
        Point2[] back = [new(240, -wornMm), new(180, -30), new(60, -38), new(-2, -38), new(-6, -30), new(-110, -34), new(-118, -22), new(-110, -8), new(-4, -10)];
        (double c, double s) = (Math.Cos(slantRad), Math.Sin(slantRad));
        // On the mat y runs down the sheet; the heel of the worn edge is the frame's origin.
        Point2 OnMat(Point2 p) => new(shiftMm + (c * p.X) - (s * p.Y), 200 + (s * p.X) + (c * p.Y));
        return JsonResults.Document(json => new TraceResult
        {
            Refused = false,
            Reasons = [],
            EdgeMm = [.. edge.Select(p => new Point2(p.X, p.Y + wornMm))],
            EdgeOnMatMm = [.. edge.Select(OnMat)],
            OutlineOnMatMm = [.. edge.Concat(back).Select(OnMat)],
            HeelOnMatMm = OnMat(edge[0]),
            TipOnMatMm = OnMat(edge[^1]),
            LengthMm = 240,
            HeightMm = 48 - wornMm,
            UMm = 0.08,
        }.Write(json));
    }

    private static async Task<T> Saved<T>(BookWriter writer, Func<BookContext, Task<SaveOutcome<T>>> write)
    {
        SaveOutcome<T> outcome = await writer.WriteAsync(write);
        return outcome is SaveOutcome<T>.Saved saved ? saved.Value
            : throw new InvalidOperationException(outcome is SaveOutcome<T>.Refused refused ? string.Join("; ", refused.Problems) : outcome.ToString());
    }
}
