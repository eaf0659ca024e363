using Whetwright.Records.Backup;
using Whetwright.Records.Health;
using Whetwright.Records.Photos;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Looking_the_book_over : BookTest
{
    [Fact]
    public async Task A_sound_book_with_a_fresh_backup_is_well()
    {
        await PhotoOf(await Visit());
        await Get<BookBackup>().WriteAsync(Path.Combine(Store.Folder, "safe", "book.zip"));
        IReadOnlyList<Finding> findings = await Look();
        Assert.Equal(["database", "photos", "clock", "backup"], findings.Where(f => f.How == Condition.Well).Select(f => f.What).Where(w => w != "space"));
        Assert.Contains("whole", findings.Single(f => f.What == "backup").Found, StringComparison.Ordinal);
        Assert.All(findings.Where(f => f.How != Condition.Well), f => Assert.NotNull(f.ToDo));
    }

    [Fact]
    public async Task A_photo_gone_and_a_photo_changed_are_bad_and_named()
    {
        VisitTag visit = await Visit();
        Photo gone = await PhotoOf(visit), changed = await PhotoOf(visit, 96);
        File.Delete(Get<IPhotoStore>().PathOf(gone.Hash)!);
        await File.WriteAllTextAsync(Get<IPhotoStore>().PathOf(changed.Hash)!, "rot");
        Finding photos = (await Look()).Single(f => f.What == "photos");
        Assert.Equal(Condition.Bad, photos.How);
        Assert.Contains("1 of 2 gone, 1 changed", photos.Found, StringComparison.Ordinal);
        Assert.Contains(gone.Hash[..12], photos.Found, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Orphaned_photos_are_found_and_cleaned_only_when_asked_and_never_young_ones()
    {
        IPhotoShelf shelf = Get<IPhotoShelf>();
        byte[] old = TestPictures.Jpeg(64, 48), young = TestPictures.Jpeg(96, 48);
        foreach (byte[] bytes in new[] { old, young })
            await shelf.KeepAsync(ShelfBytes.HashOf(bytes), bytes);
        File.SetLastWriteTimeUtc(shelf.PathOf(ShelfBytes.HashOf(old))!, DateTime.UtcNow.AddDays(-2));

        Assert.Contains(await Look(), f => f is { What: "photos", How: Condition.Mind } && f.Found.StartsWith("1 that no entry names", StringComparison.Ordinal));
        Assert.NotNull(shelf.PathOf(ShelfBytes.HashOf(old)));
        Assert.Contains(await Look(clean: true), f => f.Found.StartsWith("1 that no entry names", StringComparison.Ordinal) && f.How == Condition.Well);
        Assert.Null(shelf.PathOf(ShelfBytes.HashOf(old)));
        Assert.NotNull(shelf.PathOf(ShelfBytes.HashOf(young)));
    }

    [Fact]
    public async Task A_book_without_backup_an_old_one_and_a_damaged_one_are_told_apart()
    {
        string file = Path.Combine(Store.Folder, "safe", "book.zip");
        Assert.Equal(Condition.Mind, await Backup());
        await Get<BookBackup>().WriteAsync(file);
        Assert.Equal(Condition.Well, await Backup());
        Time.Now = Time.Now.AddDays(8);
        Assert.Equal(Condition.Mind, await Backup());
        byte[] bytes = await File.ReadAllBytesAsync(file);
        await File.WriteAllBytesAsync(file, bytes[..(bytes.Length / 2)]);
        Assert.Equal(Condition.Bad, await Backup());

        async Task<Condition> Backup() => (await Look()).Single(f => f.What == "backup").How;
    }

    [Fact]
    public async Task A_clock_behind_what_was_entered_is_bad()
    {
        await Writer.SubmitAsync("a form", db => Get<Owners.OwnerDesk>().AddAsync(db, new Owners.OwnerForm { Name = "Ines" }), o => $"/owners/{o.Id}");
        Time.Now = Time.Now.AddHours(-3);
        Assert.Equal(Condition.Bad, (await Look()).Single(f => f.What == "clock").How);
    }

    private Task<IReadOnlyList<Finding>> Look(bool clean = false) => Get<BookDoctor>().LookAsync(clean, passphrase: null);

    private Task<Photo> PhotoOf(VisitTag visit, int width = 64) =>
        Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(width, 48)), new PhotoForm(PhotoSubject.Damage, visit.VisitId)));
}
