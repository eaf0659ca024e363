using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;
using Whetwright.Records.Owners;

namespace Whetwright.Records.Tests;

/// <summary>What is true of the file alone; the rest of these specifications run on a server, too.</summary>
public sealed class A_book_in_a_file : BookTest
{
    private string File => Path.Combine(Store.Folder, "safe", "book.zip");

    [Fact]
    public async Task A_restore_keeps_the_book_before_beside_the_new_one()
    {
        await Owner("Early");
        await Get<BookBackup>().WriteAsync(File);
        await Owner("Late");
        SqliteConnection.ClearAllPools(); // the server is stopped

        Restored restored = await Get<BookBackup>().RestoreAsync(File);
        Assert.Equal([("Early", 1), ("Late", 0)], new[] { ("Early", (await Get<OwnerQuery>().FindAsync("Early")).Count), ("Late", (await Get<OwnerQuery>().FindAsync("Late")).Count) });
        await using SqliteConnection before = new($"Data Source={restored.BookBefore};Mode=ReadOnly;Pooling=False");
        await before.OpenAsync();
        await using SqliteCommand count = before.CreateCommand();
        count.CommandText = "SELECT COUNT(*) FROM Owners";
        Assert.Equal(2L, await count.ExecuteScalarAsync());
    }

    [Fact]
    public async Task A_lock_left_by_a_program_that_was_killed_while_opening_keeps_nobody_out()
    {
        await using (BookContext db = Db())
            await db.Database.ExecuteSqlRawAsync("CREATE TABLE IF NOT EXISTS \"__EFMigrationsLock\" (\"Id\" INTEGER PRIMARY KEY, \"Timestamp\" TEXT NOT NULL); INSERT OR REPLACE INTO \"__EFMigrationsLock\" VALUES (1, '2026-01-01'); DELETE FROM \"__EFMigrationsHistory\" WHERE 0;");
        await using ServiceProvider again = Store.Services(Time);
        await again.OpenBookAsync().WaitAsync(TimeSpan.FromSeconds(20));
        await using BookContext after = Db();
        Assert.Equal(1, await after.Shop.CountAsync());
    }
}
