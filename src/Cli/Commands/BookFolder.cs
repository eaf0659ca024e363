using System.CommandLine;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
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

    public void AddTo(Command command) => command.Options.Add(data);

    /// <summary>The folder chosen.</summary>
    public string Read(ParseResult parsed) => Path.GetFullPath(parsed.GetValue(data) ?? BookOptions.DefaultDataFolder);

    /// <summary>Everything that reads and writes the book there; the book itself is opened where it must be there.</summary>
    /// <exception cref="InputRefusedException">It must be there, and is not.</exception>
    public ServiceProvider Services(ParseResult parsed, bool mustExist)
    {
        string folder = Read(parsed);
        if (mustExist && !File.Exists(Path.Combine(folder, SqliteBook.FileName)))
            throw new InputRefusedException($"--data is {folder}: a folder that holds a book ({SqliteBook.FileName}) would be right");
        ServiceProvider services = new ServiceCollection().AddBook(folder).BuildServiceProvider();
        if (mustExist)
            services.OpenBookAsync().GetAwaiter().GetResult();
        return services;
    }
}
