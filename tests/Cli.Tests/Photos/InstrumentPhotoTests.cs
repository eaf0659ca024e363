using OpenCvSharp;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>Calibration from photographs, and repeats of one placing.</summary>
[PictureLibrary]
public sealed class InstrumentPhotoTests
{
    private static readonly string Photo = Ran.Sample("photos", "normal", "photo.jpg");
    private static readonly string Target = Ran.Sample("photos", "target.json");

    [Fact]
    public void A_photo_with_the_blade_in_the_beam_fixes_no_zero_and_ends_with_3_and_the_reason()
    {
        using Folder folder = new();
        string instrument = Instrument(folder), to = Path.Combine(folder.Place, "after.json");

        Ran ran = Ran.Command("instrument", "zero", Photo, "--target", Target, "--instrument", instrument, "--out", to, "--json");

        Assert.Equal(3, ran.Code);
        Assert.True(ran.Json.GetProperty("reasons")[0].GetProperty("code").GetString() is "several-marks" or "beam-off-zero");
        Assert.False(File.Exists(to));
    }

    [Fact]
    public void The_distance_by_step_is_taken_from_how_far_the_edge_marks_lie_apart_and_one_photo_twice_is_no_step()
    {
        Ran one = Ran.Command("read", Photo, "--target", Target, "--json");
        double apart = Apart(one);

        Ran ran = Ran.Command("instrument", "step", Photo, Photo, "--target", Target, "--step-mm", "1");

        Assert.InRange(apart, 60, 80);
        Assert.Equal(2, ran.Code);
        Assert.Contains("Must lie above the mark before the step", ran.Err, StringComparison.Ordinal);
        Assert.Contains(apart.ToString("F1", System.Globalization.CultureInfo.InvariantCulture)[..3], ran.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("exclude each other", "PHOTO", "--marks-mm", "0.4", "--target", "TARGET")]
    [InlineData("--target is missing", "PHOTO")]
    [InlineData("no such file", "absent.jpg", "--target", "TARGET")]
    [InlineData("--marks-mm is missing")]
    public void Zero_wants_marks_or_photos_with_their_target(string says, params string[] args)
    {
        using Folder folder = new();

        Ran ran = Ran.Command(["instrument", "zero", "--instrument", Instrument(folder), .. args.Select(a => a switch { "PHOTO" => Photo, "TARGET" => Target, _ => a })]);

        Assert.Equal(2, ran.Code);
        Assert.Contains(says, ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void Several_photos_of_one_placing_agree_with_each_alone_and_claim_little_more()
    {
        using Folder folder = new();
        using Mat picture = Cv2.ImRead(Photo), turned = new();
        Cv2.Rotate(picture, turned, RotateFlags.Rotate180);
        string second = Path.Combine(folder.Place, "second.jpg");
        Cv2.ImWrite(second, turned, [(int)ImwriteFlags.JpegQuality, 97]);

        Ran one = Ran.Command("read", Photo, "--target", Target, "--json"), both = Ran.Command("read", Photo, second, "--target", Target, "--json");

        Assert.Equal(0, both.Code);
        Assert.InRange(both.Json.GetProperty("includedDeg").GetDouble() - one.Json.GetProperty("includedDeg").GetDouble(), -0.1, 0.1);
        double alone = one.Json.GetProperty("includedUDeg").GetDouble();
        Assert.InRange(both.Json.GetProperty("includedUDeg").GetDouble(), 0.8 * alone, 1.05 * alone);
        Assert.Equal(2 * one.Json.GetProperty("marks").GetArrayLength(), both.Json.GetProperty("marks").GetArrayLength());
    }

    private static double Apart(Ran ran)
    {
        double[] x = [.. ran.Json.GetProperty("marks").EnumerateArray().Where(m => m.GetProperty("role").GetString() == "edge").Select(m => m.GetProperty("targetMm")[0].GetDouble())];
        return x.Max() - x.Min();
    }

    private static string Instrument(Folder folder) => folder.Write("instrument.json", """{ "distanceMm": 100, "distanceUMm": 0.2, "zeroMm": 0, "zeroUMm": 0.5 }""");
}
