using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;
using Whetwright.Records.Sqlite;

namespace Whetwright.Records.Postgres;

/// <summary>The book wherever its options say it lies.</summary>
public static class PostgresBookServices
{
    /// <summary>Adds the book of these options: the file of a folder, or the database of a server.</summary>
    /// <exception cref="FormatException">The way to the server cannot be read.</exception>
    public static IServiceCollection AddChosenBook(this IServiceCollection services, BookOptions options)
    {
        if (options.Store == BookStore.Sqlite)
            return services.AddBook(options);
        string connection = PostgresBook.Checked(options.ConnectionString ?? "");
        services.AddPooledDbContextFactory<BookContext>(builder => builder.UsePostgresBook(connection));
        services.AddSingleton<BookDoor, PostgresDoor>();
        services.AddSingleton<IBookSnapshot, PostgresSnapshot>();
        return services.AddBookVerbs(options);
    }
}
