using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Accuracy;

/// <summary>Prints the laser's light along a row, for looking into a case.</summary>
internal static class Profile
{
    public static void Print(string photo, TargetSheet target, LaserColour colour, double y, double from, double to)
    {
        using Picture picture = Picture.Read(photo);
        FoundSheet sheet = SheetFinder.Find(picture, target.Fiducials).Sheet!;
        SheetField field = SheetField.From(picture, sheet.Map, target);
        LaserLight light = LaserLight.From(field, colour, null);
        for (double x = from; x <= to; x += 0.5)
        {
            int c = (int)((x - field.FromX) / 0.5);
            int r = (int)((y - field.FromY) / 0.5);
            double s = 0;
            for (int k = -7; k <= 7; k++)
                s += light.Smooth[((r + k) * light.Width) + c] / 15;
            int f = ((r * 2) * field.Width) + (c * 2);
            Console.WriteLine($"{x:0.0} smooth {light.Smooth[(r * light.Width) + c]:0.000} band {s:0.000} R {field.Red[f]:0.000} G {field.Green[f]:0.000} B {field.Blue[f]:0.000} room {light.Room[f]:0.000} paper {light.Paper[f]:0.000}");
        }

        _ = new Point2();
    }
}
