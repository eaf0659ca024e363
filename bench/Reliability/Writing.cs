using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Sqlite;
using Whetwright.Records.Visits;

namespace Whetwright.Reliability;

/// <summary>Takes pieces in as fast as the book lets it, and says of each save that it is done only when it is.</summary>
public static class Writing
{
    public static async Task<int> ForeverAsync(string folder, long owner)
    {
        await using ServiceProvider services = new ServiceCollection().AddBook(folder).BuildServiceProvider();
        await services.OpenBookAsync();
        BookWriter writer = services.GetRequiredService<BookWriter>();
        IntakeDesk desk = services.GetRequiredService<IntakeDesk>();
        BenchLog log = services.GetRequiredService<BenchLog>();
        BookClock clock = services.GetRequiredService<BookClock>();
        Stream acknowledged = Console.OpenStandardOutput();
        for (int i = 0; ; i++)
        {
            string token = Guid.NewGuid().ToString("N");
            await writer.SubmitAsync(token, async db =>
            {
                SaveOutcome<IntakeDone> taken = await desk.TakeInAsync(db, Form(owner, i));
                if (taken is SaveOutcome<IntakeDone>.Saved saved)
                {
                    DateTime now = clock.Now();
                    await log.AddAsync(db, new AimChosen { VisitId = saved.Value.Visits[0].VisitId, LeftDeg = 13, RightDeg = 13, HappenedAt = now, EnteredAt = now });
                }

                return taken;
            }, done => $"/intakes/{done.IntakeId}");
            await acknowledged.WriteAsync(System.Text.Encoding.ASCII.GetBytes(token + "\n"));
        }
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
}
