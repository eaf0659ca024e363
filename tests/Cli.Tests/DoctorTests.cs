namespace Whetwright.Cli.Tests;

/// <summary>The doctor, sealed backups and what a person may ask, from the command line.</summary>
public sealed class DoctorTests
{
    [Fact]
    public void Tells_a_sound_book_from_one_whose_file_rotted_and_one_that_is_not_there()
    {
        using Folder folder = new();
        string shop = Path.Combine(folder.Place, "shop");
        Assert.Equal(ExitCode.WrongInput, Ran.Command("doctor", "--data", shop).Code);
        Opened(shop);

        Ran well = Ran.Command("doctor", "--data", shop);
        Assert.Equal(ExitCode.Done, well.Code);
        Assert.Contains("well  database", well.Out, StringComparison.Ordinal);
        Assert.Contains("mind  backup", well.Out, StringComparison.Ordinal);
        Assert.Contains("whetwright backup", well.Out, StringComparison.Ordinal);

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools(); // another program would have let go of the file by now
        byte[] bytes = File.ReadAllBytes(Path.Combine(shop, "book.db"));
        for (int at = 3 * 4096; at < bytes.Length; at += 4096)
            bytes.AsSpan(at, 100).Fill(0xEE);
        File.WriteAllBytes(Path.Combine(shop, "book.db"), bytes);
        Ran bad = Ran.Command("doctor", "--data", shop);
        Assert.Equal(ExitCode.WorkRefused, bad.Code);
        Assert.Contains("BAD   database", bad.Out, StringComparison.Ordinal);
        Assert.Contains("restore", bad.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sealed_backup_wants_its_passphrase_and_a_short_one_is_refused()
    {
        using Folder folder = new();
        string shop = Path.Combine(folder.Place, "shop"), file = Path.Combine(folder.Place, "book.sealed"), back = Path.Combine(folder.Place, "back");
        Opened(shop);
        string words = folder.Write("words", "four invented words here"), brief = folder.Write("brief", "short"), wrong = folder.Write("wrong", "four other words here");

        Assert.Equal(ExitCode.WrongInput, Ran.Command("backup", "--data", shop, "--out", file, "--passphrase-file", brief).Code);
        Assert.Equal(ExitCode.Done, Ran.Command("backup", "--data", shop, "--out", file, "--passphrase-file", words).Code);
        Assert.Equal(ExitCode.WorkRefused, Ran.Command("restore", file, "--data", back).Code);
        Assert.Equal(ExitCode.WorkRefused, Ran.Command("restore", file, "--data", back, "--passphrase-file", wrong).Code);
        Assert.False(File.Exists(Path.Combine(back, "book.db")));
        Assert.Equal(ExitCode.Done, Ran.Command("restore", file, "--data", back, "--passphrase-file", words).Code);
        Assert.True(File.Exists(Path.Combine(back, "book.db")));
    }

    [Fact]
    public void A_server_that_is_away_and_a_way_that_cannot_be_read_are_wrong_input()
    {
        using Folder folder = new();
        Ran away = Ran.Command("doctor", "--data", folder.Place, "--book", "Host=127.0.0.1;Port=1;Database=shop");
        Ran unread = Ran.Command("doctor", "--data", folder.Place, "--book", "Hots=127.0.0.1");
        folder.Write("whetwright.json", "{\"bok\": \"Host=x\"}");
        Ran setting = Ran.Command("doctor", "--data", folder.Place);

        Assert.Equal((ExitCode.WrongInput, ExitCode.WrongInput, ExitCode.WrongInput), (away.Code, unread.Code, setting.Code));
        Assert.Contains("away", away.Err, StringComparison.Ordinal);
        Assert.Contains("Host=server", unread.Err, StringComparison.Ordinal);
        Assert.Contains("bok", setting.Err, StringComparison.Ordinal);
    }

    private static void Opened(string shop)
    {
        Directory.CreateDirectory(shop);
        using (Microsoft.Extensions.DependencyInjection.ServiceProvider services = Whetwright.Cli.Commands.BookFolder.Services(new Whetwright.Records.BookOptions { DataFolder = shop }, open: true))
        {
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
    }
}
