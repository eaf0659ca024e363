using System.Text.Json;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Workbench.Photos;

namespace Whetwright.Workbench.Tests;

/// <summary>The sample photographs (rendered, invented): truth in samples/photos/README.md.</summary>
public sealed class Marks_in_photos
{
    private static readonly TargetSheet Sheet = ((FormatOutcome<TargetSheet>.Read)TargetFormat.Read(Samples.Text("photos", "target.json"))).Value;
    private static readonly PhotoChoice Choice = new(Sheet) { Tip = TipDirection.Up };

    private static readonly Lazy<(PhotoResult Result, MarksInPhotos Marks)> OnePhoto = new(() => Read(new(Photo("photo"))));
    private static readonly Lazy<(PhotoResult Result, MarksInPhotos Marks)> Both = new(() => Read(new(Photo("photo")) { Dark = Photo("photo_dark"), Turned = Photo("photo_turned") }));

    [Fact]
    public void Combined_again_they_give_the_reading_they_came_from()
    {
        foreach ((PhotoResult result, MarksInPhotos marks) in new[] { OnePhoto.Value, Both.Value })
            Same(result.Reading, marks.Combine());
    }

    [Fact]
    public void Kept_as_a_document_they_give_the_same_numbers()
    {
        MarksInPhotos again = MarksInPhotos.Read(Both.Value.Marks.ToJson());

        Same(Both.Value.Result.Reading, again.Combine());
        Assert.Equal("sight.read/1", again.Method);
    }

    [Fact]
    public void The_form_that_was_told_is_kept_and_says_which_end_of_a_drawn_out_mark_is_the_shoulder()
    {
        PhotoResult result = PhotoReadings.Read(new(Photo("photo")) { Dark = Photo("photo_dark") }, Choice with { Form = FacetForm.Hollow });
        MarksInPhotos marks = MarksInPhotos.Of(result.Seen!, Choice with { Form = FacetForm.Hollow }, [new(1, null, TipDirection.Up)]);

        CombinedReading again = MarksInPhotos.Read(marks.ToJson()).Combine();

        FacetRange range = again.Sides.Select(s => s.Range).OfType<FacetRange>().First();
        Assert.True(range.Shoulder > range.Apex);
        FacetRange before = result.Reading.Sides.Select(s => s.Range).OfType<FacetRange>().First();
        Assert.Equal(before.Shoulder.Degrees, range.Shoulder.Degrees, 1e-9);
        Assert.Equal(before.Apex.Degrees, range.Apex.Degrees, 1e-9);
        Assert.DoesNotContain(again.Reasons, r => r.Code == "range-ends-assumed");
    }

    [Fact]
    public void Page_and_command_line_read_the_same_numbers()
    {
        JsonElement cli = Samples.Cli(
            "read", Samples.At("photos", "normal", "photo.jpg"), "--dark", Samples.At("photos", "normal", "photo_dark.jpg"), "--turned", Samples.At("photos", "normal", "photo_turned.jpg"),
            "--target", Samples.At("photos", "target.json"), "--tip", "up");

        using JsonDocument ours = JsonDocument.Parse(JsonResults.Document(json => ReadingResult.Write(json, Both.Value.Marks.Combine())));

        Assert.Equal(cli.GetProperty("includedDeg").GetDouble(), ours.RootElement.GetProperty("includedDeg").GetDouble());
        Assert.Equal(cli.GetProperty("includedUDeg").GetDouble(), ours.RootElement.GetProperty("includedUDeg").GetDouble());
        Assert.Equal(cli.GetProperty("sides").GetRawText(), ours.RootElement.GetProperty("sides").GetRawText());
        Assert.Equal(cli.GetProperty("reasons").GetRawText(), ours.RootElement.GetProperty("reasons").GetRawText());
    }

    [Fact]
    public void A_mark_moved_outward_by_a_millimetre_reads_steeper_by_the_formula()
    {
        MarksInPhotos marks = OnePhoto.Value.Marks;
        MarkInPhoto edge = Edge(marks, Side.Right);
        Point2 from = marks.Mounts[0].Frame!.FromZeroMm(edge.PhotoPx);

        MarksInPhotos moved = marks.Moved(edge.Number, marks.Mounts[0].Frame!.InPhotoPx(new(from.X + 1, from.Y)));

        // x = L tan 2θ: dθ = cos²(2θ) dx / 2L, at 10.1° and 100 mm 0.252°.
        double before = AsRead(marks.Combine(), Side.Right), after = AsRead(moved.Combine(), Side.Right);
        double expected = double.RadiansToDegrees(Math.Pow(Math.Cos(2 * double.DegreesToRadians(before)), 2) / 200);
        Assert.Equal(expected, after - before, 0.01);
        Assert.Equal("workbench.marks-by-hand/1", moved.Method);
        Assert.Contains(moved.Combine().Reasons, r => r.Code == "marks-by-hand");
    }

    [Fact]
    public void A_mark_put_back_by_hand_where_it_was_found_reads_the_same_angle_within_the_hand()
    {
        MarksInPhotos marks = OnePhoto.Value.Marks;
        MarkInPhoto edge = Edge(marks, Side.Left);

        CombinedReading placed = marks.Moved(edge.Number, edge.PhotoPx).Combine();

        Assert.Equal(AsRead(marks.Combine(), Side.Left), AsRead(placed, Side.Left), 0.02);
        Assert.Contains(placed.Budget, b => b.Source == "placed by hand");
        Assert.DoesNotContain(marks.Combine().Budget, b => b.Source == "placed by hand");
    }

    [Fact]
    public void An_edge_mark_left_out_leaves_one_side()
    {
        MarksInPhotos marks = OnePhoto.Value.Marks;

        CombinedReading one = marks.LeftOut(Edge(marks, Side.Left).Number).Combine();

        Assert.Equal(ReadingOutcome.OneSide, one.Outcome);
        Assert.Null(one.On(Side.Left).AsRead);
    }

    [Fact]
    public void All_edge_marks_left_out_refuse_the_reading_and_say_what_to_do()
    {
        MarksInPhotos marks = OnePhoto.Value.Marks;

        CombinedReading none = marks.LeftOut(Edge(marks, Side.Left).Number).LeftOut(Edge(marks, Side.Right).Number).Combine();

        Assert.Equal(ReadingOutcome.Refused, none.Outcome);
        Assert.Contains(none.Reasons, r => r.Code == "no-edge-mark");
    }

    [Fact]
    public void A_mark_added_and_called_the_edges_takes_the_place_of_the_one_found()
    {
        MarksInPhotos marks = OnePhoto.Value.Marks;
        Point2 at = marks.Mounts[0].Frame!.InPhotoPx(new(60, 0));

        MarksInPhotos added = marks.Added(0, at, MarkRole.Edge);

        MarkInPhoto made = Edge(added, Side.Right);
        Assert.True(made.ByHand);
        Assert.Equal(0.5 * double.RadiansToDegrees(Math.Atan2(60, 100)), AsRead(added.Combine(), Side.Right), 0.1);
        Assert.Single(added.Mounts[0].Marks, m => m.Used && m.Role == MarkRole.Edge && m.Target == Side.Right);
    }

    [Fact]
    public void A_place_outside_the_photo_is_refused_by_its_size()
    {
        MarksInPhotos marks = OnePhoto.Value.Marks;

        ArgumentException refused = Assert.ThrowsAny<ArgumentException>(() => marks.Moved(1, new(-3, 10)));

        Assert.Contains("outside the photo; within 1300 ×", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_turned_photo_read_later_gives_what_both_give_together()
    {
        PhotoChoice turned = Choice with { Tip = TipDirection.Down };
        (var mount, _) = PhotoReadings.ReadMount(1, Photo("photo_turned"), null, turned);

        CombinedReading later = OnePhoto.Value.Marks.With(mount!, new(2, null, TipDirection.Down)).Combine();

        CombinedReading together = Read(new(Photo("photo")) { Turned = Photo("photo_turned") }).Result.Reading;
        Assert.Equal(together.Included!.Value.Value.Degrees, later.Included!.Value.Value.Degrees, 1e-9);
        Assert.Equal(together.On(Side.Left).Edge!.Value.StandardUncertainty.Degrees, later.On(Side.Left).Edge!.Value.StandardUncertainty.Degrees, 1e-9);
    }

    private static PhotoSource Photo(string name) => PhotoSource.File(Samples.At("photos", "normal", name + ".jpg"));

    private static (PhotoResult Result, MarksInPhotos Marks) Read(PhotoShots shots)
    {
        PhotoResult result = PhotoReadings.Read(shots, Choice);
        return (result, MarksInPhotos.Of(result.Seen!, Choice, [new(1, null, TipDirection.Up), new(2, null, TipDirection.Down)]));
    }

    private static MarkInPhoto Edge(MarksInPhotos marks, Side target) => marks.Mounts[0].Marks.Single(m => m.Used && m.Role == MarkRole.Edge && m.Target == target);

    private static double AsRead(CombinedReading reading, Side target) => reading.On(target).AsRead!.Value.Value.Degrees;

    private static void Same(CombinedReading expected, CombinedReading actual)
    {
        Assert.Equal(expected.Outcome, actual.Outcome);
        Assert.Equal(expected.Reasons, actual.Reasons);
        Assert.Equal(expected.Included!.Value.Value.Degrees, actual.Included!.Value.Value.Degrees, 1e-9);
        Assert.Equal(expected.Included.Value.StandardUncertainty.Degrees, actual.Included.Value.StandardUncertainty.Degrees, 1e-9);
        Assert.Equal(expected.Marks.Count, actual.Marks.Count);
        foreach (Side side in new[] { Side.Left, Side.Right })
        {
            Assert.Equal(expected.On(side).Edge?.Value.Degrees ?? 0, actual.On(side).Edge?.Value.Degrees ?? 0, 1e-9);
            Assert.Equal(expected.On(side).Clarity, actual.On(side).Clarity);
        }
    }
}
