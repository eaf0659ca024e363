using System.IO.Compression;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;
using Whetwright.Records.Copying;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Privacy;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class What_people_may_ask : BookTest
{
    [Fact]
    public async Task Erasing_an_owner_takes_every_word_and_photo_and_leaves_the_takings_as_they_were()
    {
        (Owner owner, VisitTag visit, Photo photo) = await GoneHome();
        TakingsOf before = await March();

        SaveOutcome<Erased> erased = await Get<OwnerErasure>().EraseAsync("a form", owner.Id);

        Assert.Equal((1, 1, 1), Assert.IsType<SaveOutcome<Erased>.Saved>(erased).Value is { } e ? (e.Pieces, e.Visits, e.PhotoHashes.Count) : default);
        Assert.Equivalent(before, await March());
        Assert.Equal(1500, before.ChargedMinor);
        Assert.Empty(await Mentions("Marlies", "555", "example.org", "Lindenweg", "rose", "whistle", "grandmother", "neighbour", "wobbly", "Tuesday", "engraved"));
        Assert.Null(Get<IPhotoStore>().PathOf(photo.Hash));
        Assert.NotNull((await Get<OwnerQuery>().OneAsync(owner.Id))!.ErasedAt);
        Assert.Equal(visit, await Get<History.BookQuery>().ByTagAsync(visit.Tag)); // the visit and its measurements stay
    }

    [Fact]
    public async Task An_erased_owner_is_erased_on_the_disk_too()
    {
        (Owner owner, _, _) = await GoneHome();
        await Get<OwnerErasure>().EraseAsync(null, owner.Id);
        await Get<Backup.BookBackup>().WriteAsync(Path.Combine(Store.Folder, "after.zip"));
        await using ZipArchive zip = await ZipFile.OpenReadAsync(Path.Combine(Store.Folder, "after.zip"));
        using MemoryStream book = new();
        await using (Stream entry = await zip.GetEntry("book.db")!.OpenAsync())
            await entry.CopyToAsync(book);
        Assert.DoesNotContain("Marlies", System.Text.Encoding.UTF8.GetString(book.ToArray()), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_photo_that_somebody_else_has_too_stays_for_them()
    {
        (Owner owner, _, Photo photo) = await GoneHome();
        VisitTag other = await Visit();
        Photo same = await Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Damage, other.VisitId)));
        Assert.Equal(photo.Hash, same.Hash);
        await Get<OwnerErasure>().EraseAsync(null, owner.Id);
        Assert.NotNull(Get<IPhotoStore>().PathOf(photo.Hash));
    }

    [Fact]
    public async Task Nobody_is_erased_while_a_piece_of_theirs_is_here()
    {
        Owner owner = await Owner();
        await TakenIn(await Piece(owner.Id));
        FieldProblem problem = Assert.Single(Assert.IsType<SaveOutcome<Erased>.Refused>(await Get<OwnerErasure>().EraseAsync(null, owner.Id)).Problems);
        Assert.Contains("hand back first", problem.Right, StringComparison.Ordinal);
        Assert.Single(await Get<OwnerQuery>().FindAsync("Ines"));
    }

    [Fact]
    public async Task Nobody_is_erased_who_owes_something()
    {
        (Owner owner, _, _) = await GoneHome(paid: false);
        FieldProblem problem = Assert.Single(Assert.IsType<SaveOutcome<Erased>.Refused>(await Get<OwnerErasure>().EraseAsync(null, owner.Id)).Problems);
        Assert.Contains("1500", problem.Right, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_owner_takes_along_everything_about_them_and_nothing_about_others()
    {
        (Owner owner, VisitTag visit, Photo photo) = await GoneHome();
        await Owner("Somebody Else");
        using MemoryStream file = new();
        Assert.True(await Get<OwnerExport>().WriteAsync(owner.Id, file));
        using ZipArchive zip = new(file);
        using StreamReader reader = new(zip.GetEntry(OwnerExport.EntryName)!.Open());
        string text = await reader.ReadToEndAsync();
        using JsonDocument json = JsonDocument.Parse(text);
        Assert.Equal("Marlies Brandt", json.RootElement.GetProperty("owners")[0].GetProperty("name").GetString());
        Assert.Equal(visit.Tag, json.RootElement.GetProperty("visits")[0].GetProperty("tag").GetInt32());
        Assert.Equal(1500, json.RootElement.GetProperty("charges")[0].GetProperty("amountMinor").GetInt64());
        Assert.Equal(1500, json.RootElement.GetProperty("payments")[0].GetProperty("amountMinor").GetInt64());
        Assert.Contains("whistle", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Somebody", text, StringComparison.Ordinal);
        using MemoryStream bytes = new();
        await zip.GetEntry($"photos/{photo.Hash}.jpg")!.Open().CopyToAsync(bytes);
        Assert.Equal(photo.Hash, ShelfBytes.HashOf(bytes.ToArray()));
    }

    [Fact]
    public async Task Who_has_not_come_for_longer_than_the_card_keeps_is_due_and_nobody_where_it_keeps_for_good()
    {
        (Owner gone, _, _) = await GoneHome();
        Time.Now = Time.Now.AddMonths(20);
        await Owner("New Here");
        Assert.Empty(await Get<Retention>().DueAsync());
        await Months(24);
        Assert.Empty(await Get<Retention>().DueAsync());
        await Months(18);
        Assert.Equal([gone.Id], (await Get<Retention>().DueAsync()).Select(d => d.Id));
        await Get<OwnerErasure>().EraseAsync(null, gone.Id);
        Assert.Empty(await Get<Retention>().DueAsync());
    }

    private async Task Months(int months)
    {
        await using BookContext db = Db();
        await db.Shop.ExecuteUpdateAsync(set => set.SetProperty(s => s.ForgetAfterMonths, months));
    }

    private Task<TakingsOf> March() => Get<Takings>().MonthAsync(2026, 3, TimeZoneInfo.Utc);

    /// <summary>An owner with words everywhere that words can be, whose piece went home.</summary>
    private async Task<(Owner Owner, VisitTag Visit, Photo Photo)> GoneHome(bool paid = true)
    {
        Owner owner = await Saved(db => Get<OwnerDesk>().AddAsync(db, new OwnerForm { Name = "Marlies Brandt", Phone = "0170 555 12", Email = "m@example.org", Address = "Lindenweg 3", Note = "likes a rose" }));
        IntakeDone taken = await Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm
        {
            OwnerId = owner.Id,
            Pieces =
            [
                new PieceIntake
                {
                    NewPiece = new PieceForm { Name = "Marlies's knife", Note = "from her grandmother" }, Wishes = "shall whistle", Damage = "wobbly handle", Declined = "engraved side", Place = "by the rose",
                    Charges = [new ChargeForm { Text = "knife of Marlies", AmountMinor = 1500, Minutes = 10 }],
                },
            ],
        }));
        VisitTag visit = taken.Visits[0];
        Photo photo = await Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Jpeg(64, 48)), new PhotoForm(PhotoSubject.Damage, visit.VisitId)));
        DateTime now = Clock.Now();
        await Add(new VisitNote { VisitId = visit.VisitId, Text = "Marlies calls on Tuesday", HappenedAt = now, EnteredAt = now });
        await Add(new StepMark { VisitId = visit.VisitId, Step = BenchStep.Read, State = StepState.Skipped, Why = "Marlies said so", HappenedAt = now, EnteredAt = now });
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm
        {
            VisitIds = [visit.VisitId], To = "the neighbour of Marlies", EdgeNotes = new Dictionary<long, string> { [visit.VisitId] = "Dear Marlies" },
            Payment = paid ? new PaymentForm { OwnerId = owner.Id, VisitId = visit.VisitId, AmountMinor = 1500, How = "cash" } : null,
        }));
        return (owner, visit, photo);
    }

    /// <summary>Where any of these words still stands, in any column of any table.</summary>
    private async Task<List<string>> Mentions(params string[] words)
    {
        await using BookContext db = Db();
        List<string> found = [];
        foreach (var kind in db.Model.GetEntityTypes())
        {
            System.Reflection.MethodInfo set = typeof(DbContext).GetMethod(nameof(DbContext.Set), [])!.MakeGenericMethod(kind.ClrType);
            foreach (object row in (IEnumerable<object>)set.Invoke(db, null)!)
            {
                foreach (var property in kind.GetProperties())
                {
                    if (property.PropertyInfo!.GetValue(row) is string text && words.FirstOrDefault(w => text.Contains(w, StringComparison.OrdinalIgnoreCase)) is { } word)
                        found.Add($"{kind.GetTableName()}.{property.Name}: {word}");
                }
            }
        }

        return found;
    }
}
