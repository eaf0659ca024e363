namespace Whetwright.Cli.Tests;

/// <summary>The invented shop.</summary>
public sealed class DemoTests
{
    [Fact]
    public void Fills_a_shop_that_says_it_is_invented_and_leaves_a_book_that_is_there_alone()
    {
        using Folder folder = new();
        string shop = Path.Combine(folder.Place, "demo");

        Ran made = Ran.Command("demo", "--data", shop);
        Ran again = Ran.Command("demo", "--data", shop);

        Assert.Equal(ExitCode.Done, made.Code);
        Assert.Contains("40 owners, 90 pieces", made.Out, StringComparison.Ordinal);
        Assert.Equal(ExitCode.WrongInput, again.Code);
        Assert.Contains("there is a book in it already", again.Err, StringComparison.Ordinal);
        Assert.Equal(["demo"], Directory.EnumerateFileSystemEntries(folder.Place).Select(Path.GetFileName));
        string tables = Path.Combine(folder.Place, "tables");
        Assert.Equal(ExitCode.Done, Ran.Command("export", "--data", shop, "--out", tables).Code);
        Assert.Contains("Kerbe & Kante", File.ReadAllText(Path.Combine(tables, "shop.csv")), StringComparison.Ordinal);
        Assert.Contains("true", File.ReadAllText(Path.Combine(tables, "shop.csv")), StringComparison.Ordinal);
        Assert.InRange(Lines(tables, "visits.csv").Length, 350, 700);
        Assert.InRange(Lines(tables, "settings.csv").Count(l => l.Contains("fixtures.setting/1", StringComparison.Ordinal)), 250, 700);
        Assert.Contains(Lines(tables, "diameters.csv"), l => l.Contains("Dressed", StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_is_no_folder()
    {
        using Folder folder = new();
        folder.Write("taken", "x");

        Ran made = Ran.Command("demo", "--data", Path.Combine(folder.Place, "taken"));

        Assert.Equal(ExitCode.WrongInput, made.Code);
        Assert.Contains("that is a file", made.Err, StringComparison.Ordinal);
    }

    private static string[] Lines(string tables, string name) => File.ReadAllLines(Path.Combine(tables, name));
}
