using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;

namespace Whetwright.Records.Sqlite;

/// <summary>The book in a file, with everything that reads and writes it.</summary>
public static class SqliteBookServices
{
    /// <summary>Adds the book in this folder. Open it with <see cref="BookServices.OpenBookAsync"/> before anything else.</summary>
    public static IServiceCollection AddBook(this IServiceCollection services, string dataFolder) =>
        services.AddBook(new BookOptions { DataFolder = dataFolder });

    /// <summary>Adds the book that these options describe.</summary>
    /// <exception cref="NotSupportedException">The store is not a SQLite file.</exception>
    public static IServiceCollection AddBook(this IServiceCollection services, BookOptions options)
    {
        if (options.Store != BookStore.Sqlite)
            throw new NotSupportedException($"The store {options.Store} has a door of its own; this one opens {BookStore.Sqlite}.");
        services.AddPooledDbContextFactory<BookContext>(builder => builder.UseSqliteBook(options.DataFolder));
        services.AddSingleton<BookDoor, SqliteDoor>();
        services.AddSingleton<IBookSnapshot, SqliteSnapshot>();
        return services.AddBookVerbs(options);
    }
}
