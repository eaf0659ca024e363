using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;

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

    [Fact]
    public async Task A_damaged_file_is_told_by_the_doctor_with_what_to_do()
    {
        for (int i = 0; i < 40; i++)
            await Owner($"Owner {i}");
        await using (BookContext db = Db())
            await db.Database.ExecuteSqlRawAsync("PRAGMA wal_checkpoint(TRUNCATE)");
        SqliteConnection.ClearAllPools();
        string file = Path.Combine(Store.Folder, "book.db");
        byte[] bytes = await System.IO.File.ReadAllBytesAsync(file);
        for (int page = 4; page < 40; page++)
            bytes.AsSpan(page * 4096, 64).Fill(0xEE);
        await System.IO.File.WriteAllBytesAsync(file, bytes);

        Health.Finding database = (await Get<Health.BookDoctor>().LookAsync(clean: false, passphrase: null))[0];

        Assert.Equal(Health.Condition.Bad, database.How);
        Assert.Contains("restore", database.ToDo, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_full_disk_refuses_the_save_is_known_as_such_and_leaves_the_book_unharmed()
    {
        await Owner("Before");
        Exception full = await Assert.ThrowsAnyAsync<Exception>(() => Writer.WriteAsync(async db =>
        {
            int pages = (await db.Database.SqlQueryRaw<int>("PRAGMA page_count").ToListAsync())[0];
#pragma warning disable EF1002 // a number of SQLite's own
            await db.Database.ExecuteSqlRawAsync($"PRAGMA max_page_count = {pages}"); // SQLite's own way to a full disk
#pragma warning restore EF1002
            SaveOutcome<Owner> last = new SaveOutcome<Owner>.Refused("Name", null, "never");
            for (int i = 0; i < 200; i++)
                last = await Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = $"Too many {i}", Note = new string('x', 4000) });
            return last;
        }));

        Assert.True(DiskFull.Is(full), full.ToString());
        SqliteConnection.ClearAllPools(); // the limit goes with its connection
        Assert.Empty(await Get<OwnerQuery>().FindAsync("Too many"));
        Assert.Single(await Get<OwnerQuery>().FindAsync("Before"));
        Assert.Null(await Get<BookDoor>().IntegrityAsync());
        await Owner("Afterwards");
    }
}
