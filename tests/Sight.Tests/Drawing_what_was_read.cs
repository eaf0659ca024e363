using Whetwright.Core.Optics;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

public sealed class Drawing_what_was_read
{
    [Fact]
    public void The_annotated_picture_has_the_photo_s_size_and_is_drawn_on_at_every_mark()
    {
        SharedScene scene = SharedScene.Open("easy_202");
        PhotoReading reading = scene.Read();
        using Picture photo = Picture.Read(Path.Combine(scene.Folder, "photo.jpg"));
        byte[] png = PhotoAnnotation.ToPng(photo, SharedScene.Target(SharedScene.Root!), reading.Mounts[0]);
        using Picture drawn = Picture.Decode(png);
        Assert.Equal((photo.WidthPx, photo.HeightPx), (drawn.WidthPx, drawn.HeightPx));
        Assert.Equal(ReadingOutcome.Read, reading.Outcome);
        byte[] before = photo.ToPng();
        Assert.NotEqual(before.Length, png.Length);
    }
}
