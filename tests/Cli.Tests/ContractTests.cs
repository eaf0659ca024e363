using System.Text.Json;

namespace Whetwright.Cli.Tests;

/// <summary>What each verb prints as JSON: the keys of the contract, one document, the same numbers as in the tables.</summary>
public sealed class ContractTests
{
    private const string SeenStrip = """{ "oldDeg": 15, "widthMm": 0.7, "wheelDiameterMm": 250, "seenBandMm": [0.5, 0.7] }""";

    [Fact]
    public void What_the_strip_says_and_the_ratios_have_their_chains_too()
    {
        Ran touch = Ran.WithInput(SeenStrip, "touch", "-", "--explain");
        Ran section = Ran.Command("section", Ran.Sample("sections", "dull-to-13.json"), "--explain");

        Assert.Contains("setting minus facet, from", touch.Out, StringComparison.Ordinal);
        Assert.Contains("pen-test.inverse/1", touch.Out, StringComparison.Ordinal);
        Assert.Contains("strength, new over old", section.Out, StringComparison.Ordinal);
        Assert.Contains("push, new over old", section.Out, StringComparison.Ordinal);
    }

    private static readonly string[] Reading =
        ["budget", "formatVersion", "includedDeg", "includedUDeg", "marks", "measureNext", "outcome", "reasons", "rollDeg", "rollKnown", "sides"];

    [Fact]
    public void Read_prints_the_keys_of_its_contract()
    {
        JsonElement json = Ran.Command("read", "--marks", Ran.Sample("kitchen-knife", "marks.json"), "--instrument", Ran.Sample("kitchen-knife", "instrument.json"), "--json").Json;

        Assert.Equal(Reading, Keys(json));
        Assert.Equal(
            ["asReadDeg", "asReadUDeg", "blade", "clarity", "edgeDeg", "edgeUDeg", "microDeg", "primaryDeg", "rangeDeg", "target"],
            Keys(json.GetProperty("sides")[0]));
        Assert.Equal(["deg", "photoPx", "role", "target", "targetMm"], Keys(json.GetProperty("marks")[0]));
        Assert.Equal(["source", "uDeg"], Keys(json.GetProperty("budget")[0]));
        Assert.Equal(["uAfterDeg", "what"], Keys(json.GetProperty("measureNext")[0]));
        Assert.Equal("read", json.GetProperty("outcome").GetString());
        Assert.Equal("left", json.GetProperty("sides")[0].GetProperty("target").GetString());
        Assert.Equal("right", json.GetProperty("sides")[0].GetProperty("blade").GetString());
    }

    [Fact]
    public void Set_prints_the_keys_of_its_contract_and_its_worst_deviation_is_that_of_its_own_angles()
    {
        JsonElement json = Set("--angle-deg", "13", "--score-mm", "0,110").Json;
        JsonElement clamp = json.GetProperty("clamps")[0];

        Assert.Superset(new HashSet<string>(["clamps", "uDeg", "measureNext", "formatVersion"], StringComparer.Ordinal), Keys(json).ToHashSet(StringComparer.Ordinal));
        Assert.Superset(
            new HashSet<string>(["fromMm", "toMm", "pivotMm", "jawFromHeelMm", "protrusionMm", "planeTiltDeg", "worstDeg", "boundDeg", "angles", "settings", "clears"], StringComparer.Ordinal),
            Keys(clamp).ToHashSet(StringComparer.Ordinal));
        Assert.Superset(
            new HashSet<string>(["wheel", "side", "barCentreToAxisMm", "barFarSideToWheelMm", "barTravelMm", "turns"], StringComparer.Ordinal),
            Keys(clamp.GetProperty("settings")[0]).ToHashSet(StringComparer.Ordinal));
        Assert.True(clamp.GetProperty("angles").GetArrayLength() >= 50);
        Assert.Equal(6, clamp.GetProperty("settings").GetArrayLength());
        double worst = clamp.GetProperty("worstDeg").GetDouble();
        Assert.InRange(worst - clamp.GetProperty("boundDeg").GetDouble(), -1e-9, 0.01);
    }

    [Fact]
    public void Section_prints_the_keys_of_its_contract()
    {
        JsonElement json = Ran.Command("section", Ran.Sample("sections", "dull-to-13.json"), "--json").Json;

        Assert.Superset(
            new HashSet<string>(["recessionMm", "fullRecessionMm", "sides", "removedMm3", "removedMg", "growthPerMm"], StringComparer.Ordinal),
            Keys(json).ToHashSet(StringComparer.Ordinal));
        Assert.Equal("fixedHeight shoulder", string.Join(' ', Keys(json.GetProperty("growthPerMm"))));
        Assert.Equal("left right", string.Join(' ', Keys(json.GetProperty("sides"))));
        Assert.True(json.GetProperty("sides").GetProperty("left").TryGetProperty("facetWidthMm", out _));
        Assert.True(json.GetProperty("sides").GetProperty("right").TryGetProperty("removedMm2", out _));
    }

    [Fact]
    public void Touch_prints_its_contract_both_ways()
    {
        JsonElement forward = Ran.Command("touch", Ran.Sample("touch", "too-flat.json"), "--json").Json;
        JsonElement inverse = Ran.Command("touch", Ran.Sample("touch", "band-seen.json"), "--json").Json;

        Assert.Equal("shoulder", forward.GetProperty("firstTouch").GetString());
        Assert.Equal(2, forward.GetProperty("bandMm").GetArrayLength());
        Assert.True(inverse.GetProperty("offDeg")[1].GetDouble() < 0, "a strip at the shoulder says too flat");
    }

    [Fact]
    public void Reshape_and_instrument_print_their_contracts()
    {
        JsonElement reshape = Ran.Command("reshape", Ran.Sample("reshape", "broken-tip.json"), "--json").Json;
        JsonElement instrument = Ran.Command("instrument", "step", "--before-mm", "57,7", "--after-mm", "115.5", "--step-mm", "100", "--json").Json;

        Assert.Superset(new HashSet<string>(["edgeMm", "gapMm", "removedMm3", "minutes"], StringComparer.Ordinal), Keys(reshape).ToHashSet(StringComparer.Ordinal));
        Assert.Equal(
            ["date", "distanceMm", "distanceUMm", "formatVersion", "holderRollDeg", "printScale", "scatterDeg", "zeroMm", "zeroUMm"], Keys(instrument));
        // L = Δ·y₁/(y₂ − y₁) = 100·57.7/57.8, by hand.
        Assert.Equal(99.82699, instrument.GetProperty("distanceMm").GetDouble(), 4);
    }

    [Fact]
    public void Results_conform_to_their_schemas()
    {
        (string Schema, Ran Run)[] runs =
        [
            ("read-result", Ran.Command("read", "--marks", Ran.Sample("kitchen-knife", "marks.json"), "--json", "--explain")),
            ("set-result", Set("--angle-deg", "13", "--score-mm", "0,110", "--json", "--explain")),
            ("section-result", Ran.Command("section", Ran.Sample("sections", "dull-to-13.json"), "--json", "--explain")),
            ("touch-result", Ran.Command("touch", Ran.Sample("touch", "too-flat.json"), "--json", "--explain")),
            ("touch-result", Ran.Command("touch", Ran.Sample("touch", "band-seen.json"), "--json")),
            ("touch-result", Ran.WithInput(SeenStrip, "touch", "-", "--json", "--explain")),
            ("reshape-result", Ran.Command("reshape", Ran.Sample("reshape", "broken-tip.json"), "--json", "--explain")),
            ("instrument-result", Ran.Command("instrument", "roll", Ran.Sample("instrument", "roll.json"), "--json", "--explain")),
        ];

        Assert.All(runs, r =>
        {
            Assert.Equal(0, r.Run.Code);
            Assert.Empty(Formats.Tests.SchemaCheck.Of(r.Schema).Faults(r.Run.Out));
        });
    }

    [Fact]
    public void Text_and_JSON_show_the_same_numbers()
    {
        Ran text = Ran.Command("section", Ran.Sample("sections", "dull-to-13.json"));
        JsonElement json = Ran.Command("section", Ran.Sample("sections", "dull-to-13.json"), "--json").Json;

        foreach (string key in new[] { "recessionMm", "heightLostMm", "behindEdgeAfterMm" })
            Assert.Contains(json.GetProperty(key).GetDouble().ToString("F3", System.Globalization.CultureInfo.InvariantCulture) + " mm", text.Out, StringComparison.Ordinal);
        Assert.Contains(json.GetProperty("removedMm3").GetDouble().ToString("F1", System.Globalization.CultureInfo.InvariantCulture) + " mm³", text.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Display_units_change_the_tables_and_not_the_files()
    {
        string sample = Ran.Sample("sections", "dull-to-13.json");

        Assert.Contains(" in", Ran.Command("section", sample, "--units", "in").Out, StringComparison.Ordinal);
        Assert.Equal(Ran.Command("section", sample, "--json").Out, Ran.Command("section", sample, "--json", "--units", "in").Out);
    }

    [Fact]
    public void Explain_names_formula_source_and_method_of_each_number()
    {
        Ran ran = Ran.Command("section", Ran.Sample("sections", "dull-to-13.json"), "--explain");

        Assert.Contains("formula", ran.Out, StringComparison.Ordinal);
        Assert.Contains("source", ran.Out, StringComparison.Ordinal);
        Assert.Contains("method", ran.Out, StringComparison.Ordinal);
    }

    private static Ran Set(params string[] more) => Ran.Command(
        ["set", Ran.Sample("kitchen-knife", "blade.json"), "--rig", Ran.Sample("kitchen-knife", "rig.json"), .. more.Contains("--json", StringComparer.Ordinal) ? more : [.. more, "--json"]]);

    private static string[] Keys(JsonElement json) => [.. json.EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal)];
}
