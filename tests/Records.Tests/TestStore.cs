using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Sqlite;

namespace Whetwright.Records.Tests;

/// <summary>An empty place for a book, on a real disk, gone after the test.</summary>
public abstract class TestStore : IDisposable
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("whetwright-book-").FullName;

    /// <summary>The store that the specifications run on.</summary>
    public static TestStore New() => new SqliteStore();

    /// <summary>The same with no book in it yet.</summary>
    public static TestStore Empty() => new SqliteStore(empty: true);

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
}

/// <summary>A clock that stands until it is moved.</summary>
public sealed class TestTime : TimeProvider
{
    public DateTimeOffset Now { get; set; } = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;
}
