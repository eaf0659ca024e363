using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests;

public sealed class Finding_the_sheet
{
    [Fact]
    public void The_map_goes_through_the_true_places_to_a_fifth_of_a_pixel()
    {
        using Picture photo = DrawnTarget.Photo();
        FoundSheet sheet = SheetFinder.Find(photo, DrawnTarget.Sheet.Fiducials).Sheet!;
        Assert.Equal(8, sheet.Fiducials.Count);
        foreach (Point2 mm in new Point2[] { new(148.5, 105), new(60, 90), new(240, 120), new(20, 105) })
        {
            Point2 at = sheet.Map.ToPhoto(mm);
            Assert.InRange(at.DistanceTo(DrawnTarget.TruePx(mm)), 0, 0.2);
        }
    }

    [Fact]
    public void There_and_back_again_is_the_same_place()
    {
        using Picture photo = DrawnTarget.Photo();
        LensMap map = SheetFinder.Find(photo, DrawnTarget.Sheet.Fiducials).Sheet!.Map;
        var mm = new Point2(97.25, 118.5);
        Assert.InRange(map.ToSheet(map.ToPhoto(mm)).DistanceTo(mm), 0, 1e-6);
    }

    [Fact]
    public void A_wrong_target_file_is_noticed()
    {
        using Picture photo = DrawnTarget.Photo();
        var other = DrawnTarget.Sheet.Fiducials.Select((f, i) => i % 2 == 0 ? f : f.Moved(9)).ToList();
        SheetSearch search = SheetFinder.Find(photo, other);
        Assert.True(search.Reason is { Code: "reprojection-too-large" or "fiducials-disagree" } || search.Sheet is { Dropped.Count: >= 4 });
    }
}
