using System.IO.Compression;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Backing_up_and_restoring : BookTest
{
    private string File => Path.Combine(Store.Folder, "safe", "book.zip");

    [Fact]
    public async Task A_backup_restores_the_book_and_its_photos_into_an_empty_folder()
    {
        VisitTag visit = await Visit();
        Photo photo = await Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Damage, visit.VisitId)));
        BackupManifest manifest = await Get<BookBackup>().WriteAsync(File);
        Assert.Equal((1L, 1L, 2), (manifest.Rows["Visits"], manifest.Rows["Photos"], manifest.Files.Count));

        using TestStore elsewhere = TestStore.Empty();
        await using ServiceProvider there = elsewhere.Services(Time);
        await there.GetRequiredService<BookBackup>().RestoreAsync(File);
        await there.OpenBookAsync();
        Assert.Equal(visit, await there.GetRequiredService<History.BookQuery>().ByTagAsync(visit.Tag));
        Assert.NotNull(there.GetRequiredService<IPhotoStore>().PathOf(photo.Hash));
    }

    [Fact]
    public async Task A_backup_taken_while_four_others_write_is_one_moment_of_the_book()
    {
        Owner owner = await Owner();
        using CancellationTokenSource stop = new();
        TaskCompletionSource writing = new(TaskCreationOptions.RunContinuationsAsynchronously);
        Task[] writers = [.. Enumerable.Range(0, 4).Select(_ => Task.Run(async () =>
        {
            while (!stop.IsCancellationRequested)
            {
                await Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm
                {
                    OwnerId = owner.Id,
                    Pieces = [.. Enumerable.Range(0, 2).Select(_ => new PieceIntake { NewPiece = new Pieces.PieceForm(), Charges = [new Money.ChargeForm { Text = "knife", AmountMinor = 900 }] })],
                    DepositMinor = 100,
                    DepositHow = "cash",
                }));
                writing.TrySetResult();
            }
        }))];
        await writing.Task;
        await Get<BookBackup>().WriteAsync(File);
        await stop.CancelAsync();
        await Task.WhenAll(writers);

        using TestStore elsewhere = TestStore.Empty();
        await using ServiceProvider there = elsewhere.Services(Time);
        await there.GetRequiredService<BookBackup>().RestoreAsync(File);
        await using BookContext db = await there.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        int intakes = await db.Intakes.CountAsync();
        Assert.True(intakes > 0);
        Assert.Equal((2 * intakes, 2 * intakes, intakes), (await db.Visits.CountAsync(), await db.Charges.CountAsync(), await db.Payments.CountAsync()));
    }

    [Fact]
    public async Task A_backup_with_any_byte_of_a_photo_changed_is_refused_and_nothing_is_touched()
    {
        await Owner("Before");
        await Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Piece)));
        await Get<BookBackup>().WriteAsync(File);
        byte[] whole = await System.IO.File.ReadAllBytesAsync(File);
        await Owner("After");
        (int from, int to) = StoredEntry(whole); // stored as it is, so each byte counts; in packed runs of zeros a changed byte may unpack to the same
        Random random = new(3);
        for (int i = 0; i < 12; i++)
        {
            byte[] damaged = [.. whole];
            int at = random.Next(from, to);
            damaged[at] ^= 0x55;
            await System.IO.File.WriteAllBytesAsync(File, damaged);
            await Assert.ThrowsAsync<BackupRefusedException>(() => Get<BookBackup>().RestoreAsync(File));
        }

        Assert.Single(await Get<OwnerQuery>().FindAsync("After"));
        Assert.Empty(Directory.EnumerateFileSystemEntries(Store.Folder, "work-*"));
    }

    /// <summary>Where the bytes of the file that is stored unpacked lie: after its local header (30 bytes, name, extra field; APPNOTE 4.3.7, from memory).</summary>
    private static (int From, int To) StoredEntry(byte[] zip)
    {
        using System.IO.Compression.ZipArchive archive = new(new MemoryStream(zip));
        System.IO.Compression.ZipArchiveEntry photo = archive.Entries.First(e => e.FullName.StartsWith("photos/", StringComparison.Ordinal));
        byte[] name = System.Text.Encoding.UTF8.GetBytes(photo.FullName);
        int at = zip.AsSpan().IndexOf(name);
        int data = at + name.Length + BitConverter.ToUInt16(zip, at - 2);
        return (data, data + (int)photo.CompressedLength);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    [InlineData(0.5)]
    public async Task A_backup_that_was_cut_short_is_refused(double share)
    {
        await Owner();
        await Get<BookBackup>().WriteAsync(File);
        byte[] whole = await System.IO.File.ReadAllBytesAsync(File);
        await System.IO.File.WriteAllBytesAsync(File, whole[..(int)(share < 1 ? whole.Length * share : share)]);
        await Assert.ThrowsAsync<BackupRefusedException>(() => Get<BookBackup>().RestoreAsync(File));
    }

    [Fact]
    public async Task A_backup_whose_photo_was_taken_out_is_refused()
    {
        await Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Piece)));
        await Get<BookBackup>().WriteAsync(File);
        using (ZipArchive zip = ZipFile.Open(File, ZipArchiveMode.Update))
            zip.Entries.Single(e => e.FullName.StartsWith("photos/", StringComparison.Ordinal)).Delete();
        await Assert.ThrowsAsync<BackupRefusedException>(() => Get<BookBackup>().VerifyAsync(File));
    }

    [Fact]
    public async Task A_photo_that_rotted_in_the_book_is_told_when_the_backup_is_made()
    {
        Photo photo = await Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Piece)));
        await System.IO.File.WriteAllTextAsync(Get<IPhotoStore>().PathOf(photo.Hash)!, "rot");
        BackupRefusedException refused = await Assert.ThrowsAsync<BackupRefusedException>(() => Get<BookBackup>().WriteAsync(File));
        Assert.Contains(photo.Hash, refused.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(Path.GetDirectoryName(File)!));
    }

    [Fact]
    public async Task A_book_in_use_is_not_replaced()
    {
        await Owner("Before");
        await Get<BookBackup>().WriteAsync(File);
        await using (BookContext db = Db())
        {
            await db.Database.OpenConnectionAsync();
            Assert.True(await db.Owners.AnyAsync());
            await Assert.ThrowsAsync<BackupRefusedException>(() => Get<BookBackup>().RestoreAsync(File));
        }

        Assert.Single(await Get<OwnerQuery>().FindAsync("Before"));
    }
}
