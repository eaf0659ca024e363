using System.Globalization;
using System.Text.Json;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Accuracy;

/// <summary>Draws the laser's light on the sheet (root scale) with what was read (rings) and what is true (crosses), for looking into a case.</summary>
internal static class LightPicture
{
    private const int Scale = 3;

    public static void Write(Trial trial, TargetSheet target, string path)
    {
        string name = trial.Dark ? "photo_dark.jpg" : "photo.jpg";
        if (trial.Scene.Photo(name) is not { } file)
            return;
        using Picture picture = Picture.Read(file);
        using Picture lit = Picture.Read(trial.Scene.Photo("photo.jpg")!);
        if ((SheetFinder.Find(picture, target.Fiducials).Sheet ?? SheetFinder.Find(lit, target.Fiducials).Sheet) is not { } sheet)
            return;
        SheetField field = SheetField.From(picture, sheet.Map, target);
        LaserLight light = LaserLight.From(field, trial.Scene.Laser == "red" ? LaserColour.Red : LaserColour.Green, null);
        bool[] blade = lit.WidthPx == picture.WidthPx && lit.HeightPx == picture.HeightPx && SheetFinder.Find(lit, target.Fiducials).Sheet is { } onLit
            ? BladeMask.From(LaserLight.From(SheetField.From(lit, onLit.Map, target), light.Colour, null)) : BladeMask.From(light);
        using Mat canvas = new(light.Height, light.Width, MatType.CV_8UC3);
        for (int row = 0; row < light.Height; row++)
        {
            for (int column = 0; column < light.Width; column++)
            {
                double z = light.Smooth[(row * light.Width) + column];
                byte v = (byte)Math.Clamp(255 * Math.Pow(Math.Max(0, z), 0.4), 0, 255);
                byte shade = blade[(row * light.Width) + column] ? (byte)90 : v;
                canvas.Set(row, column, new Vec3b(shade, v, v));
            }
        }

        using Mat big = new();
        Cv2.Resize(canvas, big, new Size(light.Width * Scale, light.Height * Scale), 0, 0, InterpolationFlags.Nearest);
        Point At(double x, double y) => new((x - field.FromX) * 2 * Scale, (y - field.FromY) * 2 * Scale);
        foreach (JsonElement spot in trial.Scene.Truth.GetProperty("spots").EnumerateArray())
        {
            string facet = spot.GetProperty("facet").GetString()!;
            if (facet == "apex" || !(spot.TryGetProperty("ideal_mm", out JsonElement at) || spot.TryGetProperty("centroid_mm", out at)) || at.ValueKind != JsonValueKind.Array)
                continue;
            Cv2.DrawMarker(big, At(at[0].GetDouble(), at[1].GetDouble()), Scalar.LimeGreen, MarkerTypes.TiltedCross, 14, 1);
            Cv2.PutText(big, facet[..2], At(at[0].GetDouble(), at[1].GetDouble() + 12), HersheyFonts.HersheyPlain, 1, Scalar.LimeGreen);
        }

        foreach (SeenMark mark in trial.Reading.Marks.Where(m => m.Mount == 0))
        {
            Scalar colour = mark.Role == SeenRole.Edge ? Scalar.Red : mark.Role is SeenRole.Primary or SeenRole.Micro ? Scalar.Orange : Scalar.Magenta;
            Cv2.Circle(big, At(mark.TargetMm.X, mark.TargetMm.Y), 8, colour, 1);
            Cv2.PutText(big, mark.Role.ToString()[..2], At(mark.TargetMm.X + 1, mark.TargetMm.Y - 8), HersheyFonts.HersheyPlain, 1, colour);
        }

        string words = string.Create(CultureInfo.InvariantCulture, $"{trial.Scene.Name} {trial.Scene.Beam} err {trial.Error:0.00} u {trial.U:0.00} bound {trial.BoundError:0.00} L {trial.AsReadError(Side.Left):0.00} R {trial.AsReadError(Side.Right):0.00} {string.Join(" ", trial.Reading.Reasons.Select(r => r.Code).Where(c => c is not ("defaults-used" or "roll-not-known" or "steep-bevel")))} {Table.Visibility(trial)}");
        Cv2.PutText(big, words, new(6, 14), HersheyFonts.HersheyPlain, 1, Scalar.White);
        Cv2.ImWrite(path, big);
    }
}
