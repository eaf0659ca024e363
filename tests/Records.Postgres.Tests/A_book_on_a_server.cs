using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;
using Whetwright.Records.Copying;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Postgres;
using Whetwright.Records.Saving;
using Whetwright.Records.Sqlite;
using Whetwright.Records.Visits;
using Whetwright.Reliability;

namespace Whetwright.Records.Tests;

/// <summary>What is true of the server alone.</summary>
public sealed class A_book_on_a_server : BookTest
{
    [Fact]
    public async Task Names_are_listed_in_the_order_of_their_bytes_as_in_the_file()
    {
        foreach (string name in new[] { "ä", "b", "Z", "a" })
            await Owner(name);
        Assert.Equal(["Z", "a", "b", "ä"], (await Get<OwnerQuery>().FindAsync(null)).Select(o => o.Name));
    }

    [Fact]
    public async Task Twelve_writers_at_once_each_get_their_save_and_no_tag_twice()
    {
        Owner owner = await Owner();
        IntakeDone[] done = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm { OwnerId = owner.Id, Pieces = [new PieceIntake { NewPiece = new Pieces.PieceForm() }] }))));
        Assert.Equal(12, done.Select(d => d.Visits[0].Tag).Distinct().Count());
    }

    [Fact]
    public async Task The_same_form_sent_from_two_stations_at_once_is_saved_once()
    {
        Submitted<Owner>[] sent = await Task.WhenAll(Enumerable.Range(0, 2).Select(_ =>
            Writer.SubmitAsync("one token", db => Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = "Once" }), o => $"/owners/{o.Id}")));
        Assert.Equal([false, true], sent.Cast<Submitted<Owner>.Done>().Select(d => d.Again).Order());
        Assert.Single(await Get<OwnerQuery>().FindAsync("Once"));
    }

    [Fact]
    public async Task A_text_with_a_null_character_is_kept_without_it()
    {
        Owner owner = await Owner("Ana\0 Lind");
        Assert.Equal("Ana Lind", (await Get<OwnerQuery>().OneAsync(owner.Id))!.Name);
    }

    [Fact]
    public async Task A_book_moves_from_a_file_with_every_row_and_photo_and_goes_on_from_there()
    {
        using Filed file = await Filed.MakeAsync(Time);
        Moved moved = await BookMove.MoveAsync(file.Books, file.Shelf, Get<IDbContextFactory<BookContext>>(), Get<IPhotoShelf>());
        Assert.Equal((1L, 1L, 1), (Rows(moved, "Owners"), Rows(moved, "Visits"), moved.Photos));
        await using (BookContext there = Db(), here = await file.Books.CreateDbContextAsync())
            Assert.Equal(await BookDigest.OfAsync(here), await BookDigest.OfAsync(there));
        Assert.NotNull(Get<IPhotoStore>().PathOf(file.Photo));

        VisitTag next = await Visit(); // keys and tags go on after those that came
        Assert.Equal(1002, next.Tag);
    }

    [Fact]
    public async Task A_book_is_not_moved_on_top_of_another()
    {
        using Filed file = await Filed.MakeAsync(Time);
        await Owner("Already here");
        BackupRefusedException refused = await Assert.ThrowsAsync<BackupRefusedException>(() => BookMove.MoveAsync(file.Books, file.Shelf, Get<IDbContextFactory<BookContext>>(), Get<IPhotoShelf>()));
        Assert.Contains("Owners", refused.Message, StringComparison.Ordinal);
        Assert.Single(await Get<OwnerQuery>().FindAsync(null));
    }

    [Fact]
    public async Task A_book_with_a_rotted_photo_is_not_moved()
    {
        using Filed file = await Filed.MakeAsync(Time);
        await File.WriteAllTextAsync(file.Shelf.PathOf(file.Photo)!, "rot");
        BackupRefusedException refused = await Assert.ThrowsAsync<BackupRefusedException>(() => BookMove.MoveAsync(file.Books, file.Shelf, Get<IDbContextFactory<BookContext>>(), Get<IPhotoShelf>()));
        Assert.Contains(file.Photo, refused.Message, StringComparison.Ordinal);
        Assert.Empty(await Get<OwnerQuery>().FindAsync(null));
    }

    [Fact]
    public async Task A_backup_made_on_the_server_restores_into_a_folder()
    {
        VisitTag visit = await Visit();
        string zip = Path.Combine(Store.Folder, "safe", "book.zip");
        await Get<BookBackup>().WriteAsync(zip);
        DirectoryInfo folder = Directory.CreateTempSubdirectory("whetwright-folder-");
        await using (ServiceProvider there = new ServiceCollection().AddSingleton<TimeProvider>(Time).AddBook(folder.FullName).BuildServiceProvider())
        {
            await there.GetRequiredService<BookBackup>().RestoreAsync(zip);
            Assert.Equal(visit, await there.GetRequiredService<History.BookQuery>().ByTagAsync(visit.Tag));
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task Four_kills_one_of_them_of_the_server_lose_nothing_that_was_acknowledged()
    {
        // Two hundred of them: dotnet run --project bench/Reliability -c Release -- postgres 200
        using ThrowAwayServer server = ThrowAwayServer.Start(fsync: true)!;
        KillTrial trial = await KillTrial.RunAsync(new BookOptions { DataFolder = Store.Folder, Store = BookStore.Postgres, ConnectionString = server.Connection("kills") }, server, kills: 4, seed: 7);
        Assert.Equal((1, 0, 0, "ok"), (trial.ServerKills, trial.Lost, trial.Half, trial.Integrity));
        Assert.True(trial.Acknowledged >= 4, trial.ToString());
    }

    [Theory]
    [InlineData("Hots=server;Database=shop", "hots")]
    [InlineData("Host=server", "Database")]
    [InlineData("Host=server;Database=shop;Port=many", "Port")]
    public void A_way_to_the_server_that_cannot_be_read_is_refused_by_its_name(string connection, string named) =>
        Assert.Contains(named, Assert.Throws<FormatException>(() => PostgresBook.Checked(connection)).Message, StringComparison.OrdinalIgnoreCase);

    private static long Rows(Moved moved, string table) => moved.Tables.Single(t => t.Table == table).Rows;

    /// <summary>A book in a file with a visit and a photo.</summary>
    private sealed class Filed(DirectoryInfo folder, ServiceProvider services, string photo) : IDisposable
    {
        public IDbContextFactory<BookContext> Books => services.GetRequiredService<IDbContextFactory<BookContext>>();

        public IPhotoShelf Shelf => services.GetRequiredService<IPhotoShelf>();

        public string Photo => photo;

        public static async Task<Filed> MakeAsync(TimeProvider time)
        {
            DirectoryInfo folder = Directory.CreateTempSubdirectory("whetwright-filed-");
            ServiceProvider services = new ServiceCollection().AddSingleton(time).AddBook(folder.FullName).BuildServiceProvider();
            await services.OpenBookAsync();
            BookWriter writer = services.GetRequiredService<BookWriter>();
            Owner owner = ((SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => services.GetRequiredService<OwnerDesk>().AddAsync(db, new OwnerForm { Name = "Ines Albrecht", Note = "ä\n\"quoted\"" }))).Value;
            IntakeDone taken = ((SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new IntakeForm
            {
                OwnerId = owner.Id,
                Pieces = [new PieceIntake { NewPiece = new Pieces.PieceForm { Name = "paring knife", LengthMm = 90.5 }, PromisedFor = new DateOnly(2026, 3, 9), Charges = [new Money.ChargeForm { Text = "knife", AmountMinor = 900, Minutes = 12.5 }] }],
            }))).Value;
            Photo photo = ((SaveOutcome<Photo>.Saved)await writer.WriteAsync(db => services.GetRequiredService<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Damage, taken.Visits[0].VisitId)))).Value;
            return new Filed(folder, services, photo.Hash);
        }

        public void Dispose()
        {
            services.Dispose();
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            folder.Delete(recursive: true);
        }
    }
}
