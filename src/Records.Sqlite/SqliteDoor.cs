using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Sqlite;

/// <summary>
/// Opens the file. The migration lock that the tables carry outlives a program that is killed while it holds it; a lock on a file does
/// not, so the file's lock decides and a lock left in the tables is cleared under it.
/// </summary>
internal sealed class SqliteDoor(IDbContextFactory<BookContext> books, BookOptions options) : BookDoor(books)
{
    protected override async Task MigrateAsync(CancellationToken cancel)
    {
        Directory.CreateDirectory(options.DataFolder);
        await using FileStream held = await HoldAsync(Path.Combine(options.DataFolder, "opening.lock"), cancel);
        await using (BookContext db = await Books.CreateDbContextAsync(cancel))
        {
            bool left = await db.Database
                .SqlQueryRaw<int>("SELECT COUNT(*) AS \"Value\" FROM sqlite_master WHERE type = 'table' AND name = '__EFMigrationsLock'").SingleAsync(cancel) > 0;
            if (left)
                await db.Database.ExecuteSqlRawAsync("DELETE FROM \"__EFMigrationsLock\"", cancel);
        }

        await base.MigrateAsync(cancel);
    }

    private static async Task<FileStream> HoldAsync(string path, CancellationToken cancel)
    {
        while (true)
        {
            try
            {
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException) when (!cancel.IsCancellationRequested && File.Exists(path))
            {
                await Task.Delay(50, cancel);
            }
        }
    }
}
