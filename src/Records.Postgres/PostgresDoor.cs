using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace Whetwright.Records.Postgres;

/// <summary>Opens the book on the server; makes the database where it is missing and the user may.</summary>
internal sealed class PostgresDoor(IDbContextFactory<BookContext> books) : BookDoor(books)
{
    /// <summary>Reads every row of every table, and every key by its index; a page that rotted does not read (where the server keeps checksums it tells of any).</summary>
    public override async Task<string?> IntegrityAsync(CancellationToken cancel = default)
    {
        try
        {
            await using BookContext db = await Books.CreateDbContextAsync(cancel);
            await Copying.BookDigest.OfAsync(db, cancel);
            return null;
        }
        catch (PostgresException e) when (e.SqlState is PostgresErrorCodes.DataCorrupted or PostgresErrorCodes.IndexCorrupted)
        {
            return e.MessageText;
        }
    }

    protected override async Task MigrateAsync(CancellationToken cancel)
    {
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                await base.MigrateAsync(cancel);
                return;
            }
            catch (PostgresException e) when (attempt < 5 && e.SqlState is PostgresErrorCodes.DuplicateDatabase or PostgresErrorCodes.UniqueViolation or PostgresErrorCodes.DuplicateTable)
            {
                await Task.Delay(200, cancel); // another station makes it at the same moment; the server's own lock ends with its holder
            }
        }
    }
}
