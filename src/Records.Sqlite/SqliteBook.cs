using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Whetwright.Records.Sqlite;

/// <summary>The book in one SQLite file.</summary>
public static class SqliteBook
{
    /// <summary>Name of the file in the data folder.</summary>
    public const string FileName = "book.db";

    /// <summary>Points the options at the file in this folder, with the migrations of this assembly.</summary>
    /// <param name="options">Options to complete.</param>
    /// <param name="dataFolder">The data folder; made where it is not there.</param>
    public static DbContextOptionsBuilder UseSqliteBook(this DbContextOptionsBuilder options, string dataFolder)
    {
        Directory.CreateDirectory(dataFolder);
        SqliteConnectionStringBuilder connection = new()
        {
            DataSource = Path.Combine(dataFolder, FileName),
            Mode = SqliteOpenMode.ReadWriteCreate,
            Cache = SqliteCacheMode.Default,
            ForeignKeys = true,
            DefaultTimeout = 30,
        };
        return options
            .UseSqlite(connection.ConnectionString, sqlite => sqlite.MigrationsAssembly(typeof(SqliteBook).Assembly.GetName().Name))
            .AddInterceptors(FullSync.Instance);
    }
}

/// <summary>For the tools that make migrations.</summary>
internal sealed class DesignTimeBook : IDesignTimeDbContextFactory<BookContext>
{
    public BookContext CreateDbContext(string[] args) =>
        new(((DbContextOptionsBuilder<BookContext>)new DbContextOptionsBuilder<BookContext>().UseSqliteBook(Path.GetTempPath())).Options);
}
