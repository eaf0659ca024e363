namespace Whetwright.Formats.Tests;

/// <summary>The schemas in docs/formats say what the readers read, and the samples conform to both.</summary>
public sealed class SchemaTests
{
    public static TheoryData<string, string[], IReadOnlyList<string>> Objects => new()
    {
        { "marks", [], MarksFormat.Keys },
        { "marks", ["mounts", "[]"], MarksFormat.MountKeys },
        { "marks", ["mounts", "[]", "left"], MarksFormat.SideKeys },
        { "marks", ["mounts", "[]", "right"], MarksFormat.SideKeys },
        { "instrument", [], InstrumentFormat.Keys },
        { "roll", [], RollFormat.Keys },
        { "roll", ["steps", "[]"], RollFormat.StepKeys },
        { "blade", [], BladeFormat.Keys },
        { "blade", ["shape"], BladeFormat.ShapeKeys },
        { "rig", [], RigFormat.Keys },
        { "rig", ["wheels", "[]"], RigFormat.WheelKeys },
        { "rig", ["barSlide"], RigFormat.SlideKeys },
        { "rig", ["now"], RigFormat.NowKeys },
        { "section", [], SectionFormat.Keys },
        { "section", ["old"], SectionFormat.PairKeys },
        { "touch", [], TouchFormat.Keys },
        { "plan", [], PlanFormat.Keys },
        { "plan", ["abrasives", "[]"], PlanFormat.AbrasiveKeys },
        { "plan", ["areaMm2"], PlanFormat.PairKeys },
        { "order", [], OrderFormat.Keys },
        { "order", ["jobs", "[]"], OrderFormat.JobKeys },
        { "order", ["jobs", "[]", "setup"], OrderFormat.SetupKeys },
        { "order", ["setups"], OrderFormat.SetupsKeys },
        { "order", ["setups", "seen", "[]"], OrderFormat.SeenKeys },
        { "reshape", [], ReshapeFormat.Keys },
        { "target", [], TargetFormat.Keys },
        { "graduations", [], GraduationsFormat.Keys },
        { "graduations", ["graduations", "[]"], GraduationsFormat.GraduationKeys },
        { "mat", [], MatFormat.Keys },
        { "visit", [], VisitFormat.Keys },
        { "visit", ["wish"], VisitFormat.WishKeys },
        { "visit", ["photos"], VisitFormat.PhotoKeys },
    };

    [Theory]
    [MemberData(nameof(Objects))]
    public void A_schema_has_the_keys_that_its_reader_reads(string schema, string[] path, IReadOnlyList<string> keys)
    {
        IEnumerable<string> read = path.Length == 0 ? [.. keys, "formatVersion", "note"] : keys;

        Assert.Equal(string.Join(' ', read.Order(StringComparer.Ordinal)), string.Join(' ', SchemaCheck.Of(schema).Keys(path)));
    }

    [Theory]
    [InlineData("marks", "samples/kitchen-knife/marks.json")]
    [InlineData("instrument", "samples/kitchen-knife/instrument.json")]
    [InlineData("blade", "samples/kitchen-knife/blade.json")]
    [InlineData("rig", "samples/kitchen-knife/rig.json")]
    [InlineData("visit", "samples/kitchen-knife/visit.json")]
    [InlineData("section", "samples/sections/dull-to-13.json")]
    [InlineData("touch", "samples/touch/too-flat.json")]
    [InlineData("touch", "samples/touch/band-seen.json")]
    [InlineData("plan", "samples/plan/three-wheels.json")]
    [InlineData("order", "samples/order/day.json")]
    [InlineData("order", "samples/order/learnt.json")]
    [InlineData("reshape", "samples/reshape/broken-tip.json")]
    [InlineData("roll", "samples/instrument/roll.json")]
    [InlineData("target", "samples/photos/target.json")]
    [InlineData("visit", "samples/photos/visit.json")]
    [InlineData("mat", "samples/mats/mat.json")]
    public void A_sample_conforms_to_its_schema(string schema, string sample) =>
        Assert.Empty(SchemaCheck.Of(schema).Faults(File.ReadAllText(Repository.File(sample))));

    [Fact]
    public void Every_blade_sample_conforms_and_is_read_and_says_that_it_is_invented()
    {
        string[] files = Directory.GetFiles(Repository.File("samples", "blades"), "*.json");
        SchemaCheck schema = SchemaCheck.Of("blade");

        Assert.True(files.Length >= 6);
        Assert.All(files, f =>
        {
            string json = File.ReadAllText(f);
            Assert.Empty(schema.Faults(json));
            Assert.IsType<Reading.FormatOutcome<Core.Blades.Blade>.Read>(BladeFormat.Read(json));
            Assert.Contains("Invented", json, StringComparison.Ordinal);
        });
    }

    [Fact]
    public void The_check_itself_finds_a_foreign_key_a_wrong_type_and_a_missing_key()
    {
        List<string> faults = SchemaCheck.Of("section").Faults("""{ "behindEdgeMm": true, "old": { "leftDeg": 1, "rightDeg": 1, "up": 1 } }""");

        Assert.Contains(faults, f => f.StartsWith("$.behindEdgeMm", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.StartsWith("$.old.up", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.StartsWith("$.lengthMm", StringComparison.Ordinal));
    }
}
