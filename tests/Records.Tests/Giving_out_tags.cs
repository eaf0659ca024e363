using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Giving_out_tags : BookTest
{
    [Fact]
    public void The_check_digit_is_that_of_ISO_IEC_7064_MOD_11_10()
    {
        // The standard's own example for the hybrid system MOD 11,10: the string 0794 has the check character 5 (from memory).
        // A leading zero is part of that string, so the recursion is run here beside the product's for the same digits.
        Assert.Equal(5, ByTheStandard("0794"));
        Assert.All(Enumerable.Range(1, 5000), n => Assert.Equal(ByTheStandard(n.ToString(System.Globalization.CultureInfo.InvariantCulture)), TagNumber.CheckDigit(n)));
    }

    [Fact]
    public void Every_single_wrong_digit_is_caught()
    {
        for (int number = 1001; number < 1400; number++)
        {
            string tag = TagNumber.Format(number).Replace("-", "", StringComparison.Ordinal);
            for (int at = 0; at < tag.Length; at++)
            {
                for (char wrong = '0'; wrong <= '9'; wrong++)
                {
                    string typed = tag[..at] + wrong + tag[(at + 1)..];
                    Assert.Equal(typed == tag, TagNumber.TryParse(typed, out _));
                }
            }
        }
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("1")]
    [InlineData("10a7-3")]
    [InlineData("99999999999")]
    public void What_is_no_tag_is_not_read_as_one(string? typed) => Assert.False(TagNumber.TryParse(typed, out _));

    [Fact]
    public async Task Forty_intakes_at_once_never_share_a_tag()
    {
        Owner owner = await Owner();
        IntakeDone[] done = await Task.WhenAll(Enumerable.Range(0, 40).Select(i => Task.Run(() => Saved(db => Get<IntakeDesk>().TakeInAsync(
            db, new IntakeForm { OwnerId = owner.Id, Pieces = [new PieceIntake { NewPiece = new PieceForm { Name = $"knife {i}" } }, new PieceIntake { NewPiece = new PieceForm() }] })))));

        int[] tags = [.. done.SelectMany(d => d.Visits).Select(v => v.Tag).Order()];
        Assert.Equal(Enumerable.Range(1001, 80), tags);
    }

    [Fact]
    public async Task Numbers_set_aside_on_paper_are_skipped()
    {
        TagBlock block = await Saved(db => Get<TagNumbers>().SetAsideAsync(db, 10));
        Assert.Equal((1001, 1010), (block.From, block.To));
        Assert.Equal(1011, (await Visit()).Tag);
    }

    [Fact]
    public async Task A_block_in_the_way_is_jumped_over_and_another_block_does_not_overlap_it()
    {
        await using (BookContext db = Db())
        {
            db.TagBlocks.Add(new TagBlock { From = 1002, To = 1005, EnteredAt = Clock.Now() });
            await db.SaveChangesAsync();
        }

        Assert.Equal([1001, 1006, 1007], await Saved<IReadOnlyList<int>>(async db => new SaveOutcome<IReadOnlyList<int>>.Saved(await Get<TagNumbers>().TakeAsync(db, 3))));
        Assert.Equal(1008, (await Saved(db => Get<TagNumbers>().SetAsideAsync(db, 5))).From);
    }

    [Fact]
    public async Task A_number_from_a_printed_block_is_taken_once()
    {
        await Saved(db => Get<TagNumbers>().SetAsideAsync(db, 10));
        Owner owner = await Owner();
        IntakeForm form = new() { OwnerId = owner.Id, Pieces = [new PieceIntake { NewPiece = new PieceForm(), PaperTag = 1004 }] };

        Assert.Equal(1004, (await Saved(db => Get<IntakeDesk>().TakeInAsync(db, form))).Visits[0].Tag);
        Assert.Equal("Pieces[0].PaperTag", Assert.Single(await Refused(db => Get<IntakeDesk>().TakeInAsync(db, form))).Field);
    }

    [Fact]
    public async Task A_number_that_nobody_printed_is_not_taken_from_paper()
    {
        Owner owner = await Owner();
        IntakeForm form = new() { OwnerId = owner.Id, Pieces = [new PieceIntake { NewPiece = new PieceForm(), PaperTag = 4711 }] };
        Assert.Equal("4711", Assert.Single(await Refused(db => Get<IntakeDesk>().TakeInAsync(db, form))).Value);
    }

    private static int ByTheStandard(string digits)
    {
        int p = 10;
        foreach (char c in digits)
        {
            int s = p + (c - '0');
            s = s % 10 == 0 ? 10 : s % 10;
            p = s * 2 % 11;
        }

        return Enumerable.Range(0, 10).Single(check => (p + check) % 10 == 1);
    }
}
