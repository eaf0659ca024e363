using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;
using Whetwright.Records.Owners;

namespace Whetwright.Records.Tests;

public sealed class Sealing_backups : BookTest
{
    private const string Words = "four invented words here";

    private string File => Path.Combine(Store.Folder, "safe", "book.sealed");

    [Fact]
    public async Task A_sealed_backup_restores_with_its_passphrase_and_nobody_reads_it_without()
    {
        await Owner("Ines Albrecht");
        await Get<BookBackup>().WriteAsync(File, Words);
        byte[] bytes = await System.IO.File.ReadAllBytesAsync(File);
        Assert.DoesNotContain("manifest", System.Text.Encoding.Latin1.GetString(bytes), StringComparison.Ordinal);

        using TestStore elsewhere = TestStore.Empty();
        await using ServiceProvider there = elsewhere.Services(Time);
        await there.GetRequiredService<BookBackup>().RestoreAsync(File, Words);
        await there.OpenBookAsync();
        Assert.Single(await there.GetRequiredService<OwnerQuery>().FindAsync("Ines"));
    }

    [Theory]
    [InlineData(null, "none was given")]
    [InlineData("four invented words hers", "not its passphrase")]
    public async Task A_wrong_passphrase_is_refused_before_anything_is_touched(string? words, string said)
    {
        await Owner("Before");
        await Get<BookBackup>().WriteAsync(File, Words);
        await Owner("After");
        BackupRefusedException refused = await Assert.ThrowsAsync<BackupRefusedException>(() => Get<BookBackup>().RestoreAsync(File, words));
        Assert.Contains(said, refused.Message, StringComparison.Ordinal);
        Assert.Single(await Get<OwnerQuery>().FindAsync("After"));
        Assert.Empty(Directory.EnumerateFileSystemEntries(Store.Folder, "work-*"));
    }

    [Fact]
    public async Task A_changed_byte_anywhere_a_piece_moved_or_an_end_cut_off_is_refused()
    {
        string plain = Path.Combine(Store.Folder, "plain"), place = Path.Combine(Store.Folder, "sealed"), back = Path.Combine(Store.Folder, "back");
        byte[] content = new byte[(2 << 20) + 1000]; // two whole pieces and a short one
        new Random(5).NextBytes(content);
        await System.IO.File.WriteAllBytesAsync(plain, content);
        SealedFile.Seal(plain, place, Words);
        SealedFile.Open(place, back, Words);
        Assert.Equal(content, await System.IO.File.ReadAllBytesAsync(back));

        byte[] whole = await System.IO.File.ReadAllBytesAsync(place);
        const int header = 73, piece = (1 << 20) + 16; // the layout in SealedFile's summary
        Random random = new(6);
        List<byte[]> bad = [.. Enumerable.Range(0, 6).Select(_ => Changed(whole, random.Next(header, whole.Length)))];
        bad.AddRange([Changed(whole, 15), Changed(whole, 33), Changed(whole, 60)]); // salt, nonce, check of the passphrase
        bad.AddRange([whole[..(header + piece)], whole[..(header + (2 * piece))], whole[..^1], [.. whole, 0], whole[..40], []]);
        bad.Add([.. whole[..header], .. whole[(header + piece)..(header + (2 * piece))], .. whole[header..(header + piece)], .. whole[(header + (2 * piece))..]]);
        foreach (byte[] bytes in bad)
        {
            await System.IO.File.WriteAllBytesAsync(place, bytes);
            Assert.Throws<BackupRefusedException>(() => SealedFile.Open(place, back, Words));
        }
    }

    [Fact]
    public void Two_seals_of_the_same_file_have_nothing_in_common()
    {
        string plain = Path.Combine(Store.Folder, "plain");
        System.IO.File.WriteAllBytes(plain, new byte[4096]);
        SealedFile.Seal(plain, plain + "1", Words);
        SealedFile.Seal(plain, plain + "2", Words);
        byte[] one = System.IO.File.ReadAllBytes(plain + "1"), two = System.IO.File.ReadAllBytes(plain + "2");
        Assert.InRange(one.Skip(73).Zip(two.Skip(73)).Count(p => p.First == p.Second), 0, 60); // 4112 random bytes: 16 expected, far beyond six standard deviations
    }

    private static byte[] Changed(byte[] bytes, int at)
    {
        byte[] changed = [.. bytes];
        changed[at] ^= 0x10;
        return changed;
    }
}
