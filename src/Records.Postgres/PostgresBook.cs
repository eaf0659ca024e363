using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Npgsql;

namespace Whetwright.Records.Postgres;

/// <summary>The book on a PostgreSQL server that several stations share.</summary>
public static class PostgresBook
{
    /// <summary>Points the options at the server's database, with the migrations of this assembly.</summary>
    /// <param name="options">Options to complete.</param>
    /// <param name="connection">How to reach it, such as <c>Host=server;Database=shop;Username=shop;Password=…</c>.</param>
    /// <exception cref="FormatException">It is no such text; the message says what is wrong.</exception>
    public static DbContextOptionsBuilder UsePostgresBook(this DbContextOptionsBuilder options, string connection) => options
        .UseNpgsql(Checked(connection), postgres => postgres.MigrationsAssembly(typeof(PostgresBook).Assembly.GetName().Name))
        .ReplaceService<IModelCustomizer, ByteOrder>()
        .AddInterceptors(OneWriter.Instance);

    /// <summary>The text as the driver reads it, with what the book needs filled in where it says nothing.</summary>
    public static string Checked(string connection)
    {
        try
        {
            NpgsqlConnectionStringBuilder read = new(connection);
            if (string.IsNullOrWhiteSpace(read.Host) || string.IsNullOrWhiteSpace(read.Database))
                throw new FormatException("it names no Host or no Database; \"Host=server;Database=shop;Username=shop;Password=…\" would be right");
            if (!read.ContainsKey("Application Name"))
                read.ApplicationName = "whetwright";
            return read.ConnectionString;
        }
        catch (Exception e) when (e is ArgumentException or InvalidCastException or OverflowException)
        {
            throw new FormatException($"{e.Message}; \"Host=server;Database=shop;Username=shop;Password=…\" would be right", e);
        }
    }
}

/// <summary>For the tools that make migrations; they need no server.</summary>
internal sealed class DesignTimeBook : IDesignTimeDbContextFactory<BookContext>
{
    public BookContext CreateDbContext(string[] args) =>
        new(((DbContextOptionsBuilder<BookContext>)new DbContextOptionsBuilder<BookContext>().UsePostgresBook("Host=127.0.0.1;Database=design")).Options);
}
