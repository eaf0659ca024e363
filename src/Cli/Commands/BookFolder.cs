using System.CommandLine;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Postgres;
using Whetwright.Records.Sqlite;

namespace Whetwright.Cli.Commands;

/// <summary>The option that says where the book lies, and the way into it.</summary>
internal sealed class BookFolder
{
    private readonly Option<string?> data = new("--data")
    {
        Description = $"Folder of the book (default {BookOptions.DefaultDataFolder}).",
        HelpName = "folder",
    };

    private readonly Option<string?> book = new("--book")
    {
        Description = $"A PostgreSQL database that holds the book instead of a file in the folder (or {BookSettings.Variable} in the environment, or \"book\" in the folder's {BookSettings.FileName}).",
        HelpName = "Host=…;Database=…",
    };

    public void AddTo(Command command)
    {
        command.Options.Add(data);
        command.Options.Add(book);
    }

    /// <summary>The folder chosen.</summary>
    public string Read(ParseResult parsed) => Path.GetFullPath(parsed.GetValue(data) ?? BookOptions.DefaultDataFolder);

    /// <summary>Everything that reads and writes the book there; the book itself is opened where it must be there.</summary>
    /// <exception cref="InputRefusedException">It must be there, and is not.</exception>
    public ServiceProvider Services(ParseResult parsed, bool mustExist)
    {
        BookOptions options = mustExist ? Found(parsed) : Options(parsed);
        return Services(options, open: mustExist);
    }

    /// <summary>Everything that reads the book there, which is not opened yet.</summary>
    /// <exception cref="InputRefusedException">There is none.</exception>
    public ServiceProvider There(ParseResult parsed) => Services(Found(parsed), open: false);

    private BookOptions Found(ParseResult parsed)
    {
        BookOptions options = Options(parsed);
        if ( options.Store == BookStore.Sqlite && !File.Exists(Path.Combine(options.DataFolder, SqliteBook.FileName)))
            throw new InputRefusedException($"--data is {options.DataFolder}: a folder that holds a book ({SqliteBook.FileName}) would be right");
        return options;
    }

    /// <summary>Where the book lies.</summary>
    /// <exception cref="InputRefusedException">The settings cannot be read.</exception>
    public BookOptions Options(ParseResult parsed) => Settings(() => BookSettings.Options(Read(parsed), parsed.GetValue(book)));

    /// <summary>Everything that reads and writes the book of these options, opened where asked.</summary>
    /// <exception cref="InputRefusedException">The way to its server cannot be read, or the server is not reached.</exception>
    public static ServiceProvider Services(BookOptions options, bool open)
    {
        ServiceProvider services = Settings(() => new ServiceCollection().AddChosenBook(options).BuildServiceProvider());
        if (open)
            Reached(() => services.OpenBookAsync().GetAwaiter().GetResult());
        return services;
    }

    /// <summary>A server that is away is told as such.</summary>
    public static void Reached(Action open)
    {
        try
        {
            open();
        }
        catch (Exception e) when (ServerAway.Said(e) is { } said)
        {
            throw new InputRefusedException($"--book: the server is away or does not let us in ({said}); one that runs, and a user it knows, would be right");
        }
    }

    /// <summary>The same for what takes its time.</summary>
    public static async Task<T> ReachedAsync<T>(Func<Task<T>> look)
    {
        try
        {
            return await look();
        }
        catch (Exception e) when (ServerAway.Said(e) is { } said)
        {
            throw new InputRefusedException($"--book: the server is away or does not let us in ({said}); one that runs, and a user it knows, would be right");
        }
    }

    /// <summary>A setting that cannot be read is told as such.</summary>
    public static T Settings<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (FormatException e)
        {
            throw new InputRefusedException(e.Message);
        }
    }
}
