using System.Text.Json;
using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

public sealed class Reading_the_edge(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Marks_typed_on_the_page_give_the_numbers_of_the_command_line(string screen, bool scripts)
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts);
        await visitor.GoAsync("/bench");
        await visitor.TapAsync(visitor.Page.Locator(".bench-list a").First);
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Read");

        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "By eye" }));
        await visitor.TypeSampleMarksAsync();
        await visitor.TapAsync("Read the marks");

        JsonElement cli = BenchShop.Cli("read", "--marks", BenchShop.Sample("kitchen-knife", "marks.json"));
        await Assertions.Expect(visitor.Page.Locator(".dial-value").First).ToHaveTextAsync(cli.GetProperty("includedDeg").GetDouble().ToString("0.0", System.Globalization.CultureInfo.InvariantCulture));
        Reading kept = Assert.Single(await shop.FactsAsync<Reading>());
        using JsonDocument page = JsonDocument.Parse(kept.ResultJson);
        foreach (string key in new[] { "outcome", "includedDeg", "includedUDeg", "sides", "rollDeg", "budget", "measureNext", "reasons" })
            Assert.True(JsonElement.DeepEquals(cli.GetProperty(key), page.RootElement.GetProperty(key)), key);
        Assert.Equal(2, (await shop.FactsAsync<Mount>()).Count);
        if (scripts)
            await visitor.LookAsync("read-by-eye");
    }

    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Photos_sent_by_the_phone_give_the_numbers_of_the_command_line(string screen, bool scripts)
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts);

        await visitor.SendPhotosAsync(shop);

        JsonElement cli = BenchShop.Cli(
            "read", BenchShop.Sample("photos", "normal", "photo.jpg"), "--dark", BenchShop.Sample("photos", "normal", "photo_dark.jpg"), "--turned", BenchShop.Sample("photos", "normal", "photo_turned.jpg"),
            "--target", BenchShop.Sample("photos", "target.json"), "--tip", "up");
        Reading kept = Assert.Single(await shop.FactsAsync<Reading>());
        using JsonDocument page = JsonDocument.Parse(kept.ResultJson);
        foreach (string key in new[] { "outcome", "includedDeg", "includedUDeg", "sides", "reasons" })
            Assert.True(JsonElement.DeepEquals(cli.GetProperty(key), page.RootElement.GetProperty(key)), key);
        Assert.Equal(2, await visitor.Page.Locator("figure.photo svg").CountAsync());
    }

    [Theory]
    [InlineData("phone")]
    [InlineData("tablet")]
    public async Task A_finger_moves_a_mark_and_the_angle_follows_as_a_new_fact(string screen)
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen));
        await visitor.SendPhotosAsync(shop);
        await visitor.TapAsync(visitor.Page.Locator(".mark-list a").First);
        await Assertions.Expect(visitor.Page.Locator("h1")).ToContainTextAsync("Mark ");
        string before = await visitor.WordsAsync(".dial-value");
        await visitor.LookAsync("read-mark");

        await visitor.Page.Locator("svg.placing").ScrollIntoViewIfNeededAsync();
        LocatorBoundingBoxResult box = (await visitor.Page.Locator("svg.placing").BoundingBoxAsync())!;
        await visitor.Page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await visitor.Page.Mouse.DownAsync();
        await visitor.Page.Mouse.MoveAsync(box.X + (box.Width / 2) + (box.Width / 7), box.Y + (box.Height / 2), new() { Steps = 4 });
        await visitor.Page.Mouse.UpAsync();

        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("included");
        Assert.NotEqual(before, await visitor.WordsAsync(".dial-value"));
        List<Reading> readings = await shop.FactsAsync<Reading>();
        Assert.Equal(2, readings.Count);
        Assert.Equal(readings[0].Id, readings[1].CorrectsId);
        Assert.NotEqual(readings[0].IncludedDeg, readings[1].IncludedDeg);
        Assert.Equal("workbench.marks-by-hand", readings[1].Method);

        await visitor.TapAsync("Leave out");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Read");
        Assert.Equal(3, (await shop.FactsAsync<Reading>()).Count);
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Add a mark that was not found" }).First);
        visitor.AssertNoComplaints();
    }

    [Fact]
    public async Task Without_scripts_a_mark_is_moved_by_buttons_and_by_a_tap_on_the_picture()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone, scripts: false);
        await visitor.SendPhotosAsync(shop);
        await visitor.TapAsync(visitor.Page.Locator(".mark-list a").First);
        await Assertions.Expect(visitor.Page.Locator("h1")).ToContainTextAsync("Mark ");
        string before = await visitor.WordsAsync(".dial-value");

        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Button, new() { Name = "0.5 mm left" }));
        await Assertions.Expect(visitor.Page.Locator(".dial-value").First).Not.ToHaveTextAsync(before);
        string nudged = await visitor.WordsAsync(".dial-value");
        await visitor.Page.Locator(".tap-place summary").ClickAsync();
        await visitor.Page.Locator("input[type=image]").ClickAsync(new() { Position = new() { X = 220, Y = 160 } });

        await Assertions.Expect(visitor.Page.Locator(".dial-value").First).Not.ToHaveTextAsync(nudged);
        Assert.Equal(3, (await shop.FactsAsync<Reading>()).Count);
    }

    [Fact]
    public async Task Wrong_marks_are_named_with_field_value_and_what_would_be_right_and_what_was_typed_is_kept()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/read/marks");
        await visitor.TypeAsync("Left, edge", "fifteen");
        await visitor.TypeAsync("Right, edge", "51");

        await visitor.TapAsync("Read the marks");

        await Assertions.Expect(visitor.Page.Locator(".notice.wrong")).ToContainTextAsync("'fifteen' is not a number");
        Assert.Equal("51", await visitor.Page.GetByLabel("Right, edge").First.InputValueAsync());
        await visitor.LookAsync("read-marks-wrong");
        await visitor.TypeAsync("Left, edge", "15");
        await visitor.TapAsync("Read the marks");
        await Assertions.Expect(visitor.Page.Locator("#f-m0-right-edge-error")).ToContainTextAsync("must lie below 45°");
        Assert.Empty(await shop.FactsAsync<Reading>());
    }

    [Fact]
    public async Task A_file_that_is_no_photo_and_a_photo_without_the_sheet_are_told()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/read/photo");
        await visitor.Page.Locator("#f-lit").SetInputFilesAsync(new FilePayload { Name = "note.jpg", MimeType = "image/jpeg", Buffer = "not a photo"u8.ToArray() });
        await visitor.TapAsync("Read the photo");
        await Assertions.Expect(visitor.Page.Locator("#f-lit-error")).ToContainTextAsync("'note.jpg' is not a JPEG or PNG photo");

        await visitor.Page.Locator("#f-lit").SetInputFilesAsync(BenchShop.Sample("mats", "photo.jpg"));
        await visitor.TapAsync("Read the photo");

        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Read");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("The sheet was not found in it");
        Assert.Equal("refused", Assert.Single(await shop.FactsAsync<Reading>()).Outcome);
        await visitor.LookAsync("read-refused");
    }

    [Fact]
    public async Task Lengths_are_kept_and_a_second_tab_sees_both_versions()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor first = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await using Visitor second = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await first.GoAsync(shop.Address + "/read/lengths");
        await second.GoAsync(shop.Address + "/read/lengths");
        await first.TypeAsync("Thickness behind the edge", "-1");
        await first.TapAsync("Save");
        await Assertions.Expect(first.Page.Locator("#f-behindEdge-error")).ToContainTextAsync("'-1' is");

        await first.TypeAsync("Thickness behind the edge", "0,35");
        await first.TapAsync("Save");
        await Assertions.Expect(first.Page.Locator("h1")).ToHaveTextAsync("Read");
        await second.TypeAsync("Thickness behind the edge", "0.42");
        await second.TapAsync("Save");

        await Assertions.Expect(second.Page.Locator(".notice.conflict")).ToContainTextAsync("0.350 mm");
        Assert.Contains("0.420 mm", await second.WordsAsync(".notice.conflict"), StringComparison.Ordinal);
        await second.TapAsync("Save");
        await Assertions.Expect(second.Page.Locator("h1")).ToHaveTextAsync("Read");
        Assert.Equal(0.42, (await shop.FactsAsync<SectionMeasured>())[^1].BehindEdgeMm);
    }

    [Fact]
    public async Task A_told_height_that_a_blade_on_its_flank_cannot_have_is_refused_beside_the_height()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Tablet);
        await visitor.GoAsync(shop.Address + "/read/outline");
        await visitor.Page.Locator("#f-photo").SetInputFilesAsync(BenchShop.Sample("mats", "photo.jpg"));
        await visitor.TypeAsync("How high the edge floats over the mat", "2");
        await visitor.TypeAsync("How thick the spine is at the heel", "2.4");
        await visitor.Page.Locator("#f-rests").SelectOptionAsync("flank");

        await visitor.TapAsync("Take the outline");

        await Assertions.Expect(visitor.Page.GetByText("is more than half the spine").First).ToBeVisibleAsync();
        Assert.Empty(await shop.FactsAsync<OutlineTaken>());
    }

    [Fact]
    public async Task An_outline_is_traced_from_a_photo_on_the_mat()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Tablet);
        await visitor.GoAsync(shop.Address + "/read/outline");
        await visitor.Page.Locator("#f-photo").SetInputFilesAsync(BenchShop.Sample("mats", "photo.jpg"));
        await visitor.TypeAsync("How high the edge floats over the mat", "0.9");
        await visitor.TypeAsync("How thick the spine is at the heel", "2.2");

        await visitor.TapAsync("Take the outline");

        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("from heel to tip", new() { Timeout = 180_000 });
        JsonElement cli = BenchShop.Cli("trace", BenchShop.Sample("mats", "photo.jpg"), "--mat", BenchShop.Sample("mats", "mat.json"), "--edge-height-mm", "0.9", "--spine-mm", "2.2");
        using JsonDocument kept = JsonDocument.Parse(Assert.Single(await shop.FactsAsync<OutlineTaken>()).ResultJson!);
        Assert.True(JsonElement.DeepEquals(cli.GetProperty("edgeMm"), kept.RootElement.GetProperty("edgeMm")));
        Assert.Equal(182.3, cli.GetProperty("lengthMm").GetDouble(), 0.6);
    }
}
