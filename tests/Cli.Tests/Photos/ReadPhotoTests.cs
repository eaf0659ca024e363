using System.Text.Json;
using Whetwright.Formats.Tests;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>read PHOTO: the same document as from marks read by eye, from a photograph.</summary>
[PictureLibrary]
public sealed class ReadPhotoTests
{
    [Fact]
    public void An_easy_photo_of_known_truth_is_read_within_the_limits()
    {
        SharedPhoto photo = SharedPhoto.Named("easy_201");

        Ran ran = Ran.Command("read", photo.Lit, "--target", photo.Target, "--distance-mm", photo.NominalMm, "--tip", "up", "--json");

        Assert.Equal(0, ran.Code);
        Assert.Empty(SchemaCheck.Of("read-result").Faults(ran.Out));
        Assert.Equal("read", ran.Json.GetProperty("outcome").GetString());
        Assert.InRange(ran.Json.GetProperty("includedDeg").GetDouble(), photo.IncludedDeg - 0.4, photo.IncludedDeg + 0.4);
        foreach (JsonElement side in ran.Json.GetProperty("sides").EnumerateArray())
        {
            double truth = photo.AsReadDeg(side.GetProperty("target").GetString()!);
            Assert.InRange(side.GetProperty("asReadDeg").GetDouble(), truth - 0.5, truth + 0.5);
        }

        Assert.Equal("right", ran.Json.GetProperty("sides")[0].GetProperty("blade").GetString());
    }

    [Fact]
    public void Marks_stand_in_the_frame_of_the_target_file_and_in_the_photo()
    {
        SharedPhoto photo = SharedPhoto.Named("easy_201");

        JsonElement marks = Ran.Command("read", photo.Lit, "--target", photo.Target, "--json").Json.GetProperty("marks");

        JsonElement right = marks.EnumerateArray().Single(m => m.GetProperty("target").GetString() == "right" && m.GetProperty("role").GetString() == "edge");
        Assert.InRange(right.GetProperty("targetMm")[0].GetDouble(), 200, 260);
        Assert.InRange(right.GetProperty("targetMm")[1].GetDouble(), 95, 115);
        Assert.InRange(right.GetProperty("photoPx")[0].GetDouble(), 1, 10_000);
    }

    [Fact]
    public void A_photo_that_must_be_refused_ends_with_3_and_the_whole_document()
    {
        SharedPhoto photo = SharedPhoto.Named("hard_301");

        Ran ran = Ran.Command("read", photo.Lit, "--target", photo.Target, "--distance-mm", photo.NominalMm, "--json");

        Assert.Equal(3, ran.Code);
        Assert.Empty(SchemaCheck.Of("read-result").Faults(ran.Out));
        Assert.Equal("refused", ran.Json.GetProperty("outcome").GetString());
        Assert.Equal(JsonValueKind.Null, ran.Json.GetProperty("includedDeg").ValueKind);
        Assert.True(ran.Json.GetProperty("reasons").GetArrayLength() > 0);
        Assert.Contains("Refused", ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void The_form_of_the_bevels_says_which_end_of_a_drawn_out_mark_is_the_shoulder()
    {
        // Convex: steeper toward the apex; hollow: flattest there (docs/sources.md has no published figure; it follows from the curvature).
        string[] args = ["read", Ran.Sample("photos", "normal", "photo.jpg"), "--dark", Ran.Sample("photos", "normal", "photo_dark.jpg"), "--target", Ran.Sample("photos", "target.json"), "--json"];

        JsonElement untold = Ran.Command(args).Json, convex = Ran.Command([.. args, "--form", "convex"]).Json, hollow = Ran.Command([.. args, "--form", "hollow"]).Json, flat = Ran.Command([.. args, "--form", "flat"]).Json;

        Assert.True(Shoulder(convex) < Apex(convex));
        Assert.Equal((Shoulder(convex), Apex(convex)), (Apex(hollow), Shoulder(hollow)));
        Assert.Equal((Shoulder(convex), Apex(convex)), (Shoulder(untold), Apex(untold)));
        Assert.Contains(untold.GetProperty("reasons").EnumerateArray(), IsAssumed);
        Assert.All([convex, hollow, flat], told => Assert.DoesNotContain(told.GetProperty("reasons").EnumerateArray(), IsAssumed));
        Assert.All(flat.GetProperty("sides").EnumerateArray(), side => Assert.Equal(JsonValueKind.Null, side.GetProperty("rangeDeg").ValueKind));

        static JsonElement Drawn(JsonElement reading) => reading.GetProperty("sides").EnumerateArray().First(s => s.GetProperty("rangeDeg").ValueKind == JsonValueKind.Array).GetProperty("rangeDeg");
        static double Shoulder(JsonElement reading) => Drawn(reading)[0].GetDouble();
        static double Apex(JsonElement reading) => Drawn(reading)[1].GetDouble();
        static bool IsAssumed(JsonElement reason) => reason.GetProperty("code").GetString() == "range-ends-assumed";
    }

    [Fact]
    public void Dark_and_turned_photos_are_used_and_the_blade_sides_are_named_only_where_the_tip_was_noted()
    {
        SharedPhoto photo = SharedPhoto.Named("normal_211");
        string[] args = ["read", photo.Lit, "--dark", photo.Dark, "--turned", photo.Turned, "--target", photo.Target, "--distance-mm", photo.NominalMm, "--json"];

        JsonElement silent = Ran.Command(args).Json, told = Ran.Command([.. args, "--tip", "down"]).Json;

        Assert.Equal("read", silent.GetProperty("outcome").GetString());
        Assert.Equal(JsonValueKind.Null, silent.GetProperty("sides")[0].GetProperty("blade").ValueKind);
        Assert.Contains(silent.GetProperty("reasons").EnumerateArray(), r => r.GetProperty("code").GetString() == "tip-not-noted");
        Assert.Equal("left", told.GetProperty("sides")[0].GetProperty("blade").GetString());
        Assert.InRange(told.GetProperty("includedDeg").GetDouble(), photo.IncludedDeg - 0.3, photo.IncludedDeg + 0.3);
        Assert.True(told.GetProperty("rollKnown").GetBoolean());
    }

    [Fact]
    public void The_annotated_photo_is_a_picture_of_its_own()
    {
        SharedPhoto photo = SharedPhoto.Named("easy_201");
        using Folder folder = new();
        string to = Path.Combine(folder.Place, "seen.png");

        Ran ran = Ran.Command("read", photo.Lit, "--target", photo.Target, "--annotate", to, "--json");

        Assert.Equal(0, ran.Code);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], File.ReadAllBytes(to)[..4]);
        Assert.Equal("{", ran.Out[..1]);
    }

    [Theory]
    [InlineData("--target is missing", "PHOTO")]
    [InlineData("nothing to read")]
    [InlineData("exclude each other", "PHOTO", "--marks", "PHOTO")]
    [InlineData("--csv is missing", "--batch", "FOLDER", "--target", "TARGET")]
    [InlineData("--csv goes with --batch", "PHOTO", "--csv", "x.csv", "--target", "TARGET")]
    [InlineData("--turned-dark is given without --turned", "PHOTO", "--target", "TARGET", "--turned-dark", "PHOTO")]
    [InlineData("ends in .png", "PHOTO", "--target", "TARGET", "--annotate", "seen.jpg")]
    [InlineData("one of the photos", "PHOTO", "--target", "TARGET", "--annotate", "PHOTO")]
    [InlineData("no such file", "PHOTO", "--target", "TARGET", "--dark", "absent.jpg")]
    [InlineData("a folder", "FOLDER", "--target", "TARGET")]
    [InlineData("--laser", "--marks", "PHOTO", "--laser", "red")]
    [InlineData("purple", "PHOTO", "--target", "TARGET", "--laser", "purple")]
    [InlineData("--distance-mm is -5", "PHOTO", "--target", "TARGET", "--distance-mm", "-5")]
    public void Arguments_that_do_not_fit_end_with_2_and_say_what_would(string says, params string[] args)
    {
        using Folder folder = new();
        string photo = folder.Write("photo.png", "never opened");
        string target = Path.Combine(folder.Place, "target.json");
        Ran.Command("target", "--out", Path.Combine(folder.Place, "target.pdf"));

        Ran ran = Ran.Command(["read", .. args.Select(a => a switch { "PHOTO" => photo, "TARGET" => target, "FOLDER" => folder.Place, _ => a })]);

        Assert.Equal(2, ran.Code);
        Assert.Equal("", ran.Out);
        Assert.Contains(says, ran.Err, StringComparison.Ordinal);
    }
}
