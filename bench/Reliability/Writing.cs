using System.Buffers.Binary;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Postgres;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Reliability;

/// <summary>Saves one kind of thing after another as fast as the book lets it, from three sides at once, and says of each save that it is done only when it is.</summary>
public static class Writing
{
    public static async Task<int> ForeverAsync(BookOptions options, long owner)
    {
        await using ServiceProvider services = new ServiceCollection().AddChosenBook(options).BuildServiceProvider();
        await services.OpenBookAsync();
        Stream acknowledged = Console.OpenStandardOutput();
        await Task.WhenAll(Enumerable.Range(0, 3).Select(side => Task.Run(() => OneSideAsync(services, owner, side, acknowledged))));
        return 0;
    }

    private static async Task OneSideAsync(IServiceProvider services, long owner, int side, Stream acknowledged)
    {
        BookWriter writer = services.GetRequiredService<BookWriter>();
        for (int i = side; ; i++)
        {
            string token = Guid.NewGuid().ToString("N");
            bool done = (i % 4) switch
            {
                0 or 1 => await writer.SubmitAsync(token, db => TakeInAsync(services, db, owner, i), taken => $"/intakes/{taken.IntakeId}") is Submitted<IntakeDone>.Done,
                2 => await writer.SubmitAsync(token, db => services.GetRequiredService<IPhotoStore>().PutAsync(db, new MemoryStream(Picture()), new PhotoForm(PhotoSubject.Damage)), photo => $"/photos/{photo.Id}") is Submitted<Photo>.Done,
                _ => await writer.SubmitAsync(token, db => EditAsync(services, db, owner, token), saved => $"/owners/{saved.Id}") is Submitted<Owner>.Done,
            };
            if (!done)
                throw new InvalidOperationException("A save was refused.");
            byte[] line = System.Text.Encoding.ASCII.GetBytes(token + "\n");
            lock (acknowledged)
                acknowledged.Write(line);
        }
    }

    private static async Task<SaveOutcome<IntakeDone>> TakeInAsync(IServiceProvider services, BookContext db, long owner, int i)
    {
        SaveOutcome<IntakeDone> taken = await services.GetRequiredService<IntakeDesk>().TakeInAsync(db, Form(owner, i));
        if (taken is SaveOutcome<IntakeDone>.Saved saved)
        {
            DateTime now = services.GetRequiredService<BookClock>().Now();
            await services.GetRequiredService<BenchLog>().AddAsync(db, new AimChosen { VisitId = saved.Value.Visits[0].VisitId, LeftDeg = 13, RightDeg = 13, HappenedAt = now, EnteredAt = now });
        }

        return taken;
    }

    private static async Task<SaveOutcome<Owner>> EditAsync(IServiceProvider services, BookContext db, long owner, string note)
    {
        Owner now = await db.Owners.AsNoTracking().SingleAsync(o => o.Id == owner);
        return await services.GetRequiredService<OwnerDesk>().EditAsync(db, owner, now.Version, OwnerForm.From(now) with { Note = note });
    }

    private static IntakeForm Form(long owner, int i) => new()
    {
        OwnerId = owner,
        Pieces = [Piece($"knife {i}a"), Piece($"knife {i}b")],
        DepositMinor = 500,
        DepositHow = "cash",
    };

    private static PieceIntake Piece(string name) => new()
    {
        NewPiece = new PieceForm { Name = name, LengthMm = 210 },
        Charges = [new ChargeForm { Text = "knife", AmountMinor = 900, Minutes = 12 }, new ChargeForm { Text = "chip", AmountMinor = 300, Minutes = 6 }],
    };

    /// <summary>The smallest thing that passes for a JPEG of 64 by 48 (markers as in ITU T.81: SOI, SOF0, SOS, EOI) with some kilobytes of its own in its scan.</summary>
    private static byte[] Picture()
    {
        byte[] scan = new byte[8192];
        Random.Shared.NextBytes(scan);
        for (int i = 0; i < scan.Length; i++)
            scan[i] = (byte)(scan[i] & 0x7F); // no 0xFF, which would begin a marker
        byte[] start = [0xFF, 0xD8, 0xFF, 0xC0, 0, 11, 8, 0, 48, 0, 64, 1, 1, 0x11, 0, 0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0];
        BinaryPrimitives.WriteUInt16BigEndian(start.AsSpan(7), 48);
        return [.. start, .. scan, 0xFF, 0xD9];
    }
}
