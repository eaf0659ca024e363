using Microsoft.Extensions.DependencyInjection;
#if POSTGRES
using System.Globalization;
using Npgsql;
using Whetwright.Records.Postgres;
using Whetwright.Reliability;
#else
using Whetwright.Records.Sqlite;
#endif

namespace Whetwright.Records.Tests;

/// <summary>An empty place for a book, on a real disk, gone after the test.</summary>
public abstract class TestStore : IDisposable
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("whetwright-book-").FullName;

    /// <summary>The store that the specifications run on.</summary>
    public static TestStore New() => Made(empty: false);

    /// <summary>The same with no book in it yet.</summary>
    public static TestStore Empty() => Made(empty: true);

#if POSTGRES
    private static PostgresStore Made(bool empty) => new(empty);
#else
    private static SqliteStore Made(bool empty) => new(empty);
#endif

    /// <summary>Everything that reads and writes the book there.</summary>
    public ServiceProvider Services(TimeProvider time)
    {
        ServiceCollection services = new();
        services.AddSingleton(time);
        Add(services);
        return services.BuildServiceProvider();
    }

    public virtual void Dispose()
    {
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    protected abstract void Add(IServiceCollection services);

#if POSTGRES
    /// <summary>A database of its own on the one server of this run, cloned from one that was opened once.</summary>
    private sealed class PostgresStore : TestStore
    {
        private static readonly Lazy<ThrowAwayServer?> Server = new(() => ThrowAwayServer.Start(fsync: false));

        private static readonly Lazy<bool> Template = new(() =>
        {
            using ServiceProvider services = new ServiceCollection().AddChosenBook(Options(Path.GetTempPath(), "opened_book")).BuildServiceProvider();
            services.OpenBookAsync().GetAwaiter().GetResult();
            NpgsqlConnection.ClearAllPools();
            return true;
        });

        private readonly string name = string.Create(CultureInfo.InvariantCulture, $"book_{Guid.NewGuid():N}");

        public PostgresStore(bool empty = false)
        {
            if (Server.Value is null)
            {
                Directory.Delete(Folder);
                Assert.SkipUnless(Environment.GetEnvironmentVariable("CI") is { Length: > 0 }, "No PostgreSQL on this machine: apt-get install postgresql");
                Assert.Fail("Continuous integration has to have PostgreSQL: apt-get install postgresql");
            }

            if (!empty && Template.Value)
                Command($"CREATE DATABASE {name} TEMPLATE opened_book");
        }

        protected override void Add(IServiceCollection services) => services.AddChosenBook(Options(Folder, name));

        public override void Dispose()
        {
            using (NpgsqlConnection pooled = new(PostgresBook.Checked(Server.Value!.Connection(name))))
                NpgsqlConnection.ClearPool(pooled);
            Command($"DROP DATABASE IF EXISTS {name} WITH (FORCE)");
            base.Dispose();
        }

        private static BookOptions Options(string folder, string database) =>
            new() { DataFolder = folder, Store = BookStore.Postgres, ConnectionString = Server.Value!.Connection(database) };

        private static void Command(string sql)
        {
            using NpgsqlConnection connection = new(Server.Value!.Connection("postgres"));
            connection.Open();
            using NpgsqlCommand command = connection.CreateCommand();
            command.CommandText = sql;
            command.ExecuteNonQuery();
        }
    }
#else
    private sealed class SqliteStore : TestStore
    {
        private static readonly Lazy<byte[]> Opened = new(() =>
        {
            using SqliteStore store = new(empty: true);
            using (ServiceProvider services = store.Services(TimeProvider.System))
                services.OpenBookAsync().GetAwaiter().GetResult();
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            return File.ReadAllBytes(Path.Combine(store.Folder, SqliteBook.FileName));
        });

        /// <summary>Starts from a book that was opened once: its door then finds nothing to do, which saves each test half a second.</summary>
        public SqliteStore(bool empty = false)
        {
            if (!empty)
                File.WriteAllBytes(Path.Combine(Folder, SqliteBook.FileName), Opened.Value);
        }

        protected override void Add(IServiceCollection services) => services.AddBook(Folder);

        public override void Dispose()
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            base.Dispose();
        }
    }
#endif
}

/// <summary>A clock that stands until it is moved.</summary>
public sealed class TestTime : TimeProvider
{
    public DateTimeOffset Now { get; set; } = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;
}
