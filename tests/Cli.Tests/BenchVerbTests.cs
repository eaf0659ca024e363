using System.Text.Json;

namespace Whetwright.Cli.Tests;

/// <summary>plan, order, gauge and learn: contracts, schemas, and bad input named by field.</summary>
public sealed class BenchVerbTests
{
    [Theory]
    [InlineData("plan", "plan-result", "plan", "three-wheels.json")]
    [InlineData("order", "order-result", "order", "day.json")]
    [InlineData("order", "order-result", "order", "learnt.json")]
    [InlineData("gauge", "gauge-result", "gauge", "study.csv")]
    [InlineData("learn", "learn-result", "learn", "log.csv")]
    public void A_sample_gives_one_document_of_its_schema_with_its_chain_and_a_table(string verb, string schema, string folder, string file)
    {
        Ran json = Ran.Command(verb, Ran.Sample(folder, file), "--json", "--explain"), text = Ran.Command(verb, Ran.Sample(folder, file), "--explain");

        Assert.Equal((0, 0), (json.Code, text.Code));
        Assert.Empty(Formats.Tests.SchemaCheck.Of(schema).Faults(json.Out));
        Assert.True(json.Json.GetProperty("explain").GetArrayLength() > 0);
        Assert.Contains("formula", text.Out, StringComparison.Ordinal);
        Assert.Contains("samples/" + folder, Ran.Command(verb, "--help").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Plan_has_the_keys_of_its_contract_and_its_minutes_add_up()
    {
        JsonElement json = Ran.Command("plan", Ran.Sample("plan", "three-wheels.json"), "--json").Json;
        JsonElement[] stages = [.. json.GetProperty("stages").EnumerateArray()];

        Assert.Equal(["coarse wheel", "fine wheel", "felt wheel"], stages.Select(s => s.GetProperty("abrasive").GetString()));
        Assert.Equal(json.GetProperty("minutes").GetDouble(), stages.Sum(s => s.GetProperty("minutes").GetDouble()), 1e-9);
        Assert.All(stages, s => Assert.InRange(s.GetProperty("passes").GetProperty("left").GetInt32(), s.GetProperty("passesRange")[0].GetInt32(), s.GetProperty("passesRange")[1].GetInt32()));
        Assert.Equal("learnt from 2 visits", stages[0].GetProperty("rate").GetString());
    }

    [Fact]
    public void A_wheel_beyond_its_mark_is_left_out_and_named()
    {
        // π·247.5·90/60000 = 1.17 m/s by hand.
        string plan = File.ReadAllText(Ran.Sample("plan", "three-wheels.json")).Replace("\"wheelDiameterMm\": 247.5, \"rpm\": 90, \"markedLimitMs\": 12", "\"wheelDiameterMm\": 247.5, \"rpm\": 90, \"markedLimitMs\": 1", StringComparison.Ordinal)
            .Replace("\"maxRatio\": 6", "\"maxRatio\": 6, \"fromD50Um\": 12", StringComparison.Ordinal);
        Ran ran = Ran.WithInput(plan, "plan", "-", "--json");

        Assert.Equal(0, ran.Code);
        Assert.DoesNotContain("coarse wheel", ran.Json.GetProperty("stages").EnumerateArray().Select(s => s.GetProperty("abrasive").GetString()));
        Assert.Contains(ran.Json.GetProperty("reasons").EnumerateArray(), r => r.GetProperty("code").GetString() == "wheel-too-fast" && r.GetProperty("text").GetString()!.Contains("1.2 m/s", StringComparison.Ordinal));
    }

    [Fact]
    public void Order_tells_ids_cost_and_proof_and_takes_typed_numbers()
    {
        const string day = """{ "jobs": [ { "id": "a", "minutes": "7,5", "dueMinutes": 10 }, { "id": "b", "minutes": 5, "after": ["a"] } ], "changeMinutes": [[0, 1, 2], [0, 0, 3], [0, 1, 0]], "breaks": [[8, 20]], "returnToStart": true }""";
        JsonElement json = Ran.WithInput(day, "order", "-", "--json").Json;

        // By hand: change 1, 7.5 of work ends at 8.5 of work, 20.5 by the clock: 10.5 late; then change 3; nothing back.
        Assert.Equal(["a", "b"], json.GetProperty("sequence").EnumerateArray().Select(s => s.GetString()));
        Assert.Equal(4, json.GetProperty("setupMinutes").GetDouble(), 1e-9);
        Assert.Equal(10.5, json.GetProperty("weightedLateMinutes").GetDouble(), 1e-9);
        Assert.Equal(14.5, json.GetProperty("objective").GetDouble(), 1e-9);
        Assert.True(json.GetProperty("proved").GetBoolean());
    }

    [Fact]
    public void Order_learns_what_changes_take_from_those_in_the_file_and_says_which_stay_defaults()
    {
        // The sample was drawn from 1.9 min a clamp, 3.2 a wheel and 1.2 an angle, scatter 0.25 in ln; no change of rig is in it.
        JsonElement[] setups = [.. Ran.Command("order", Ran.Sample("order", "learnt.json"), "--json").Json.GetProperty("setups").EnumerateArray()];

        foreach ((int at, double minutes) in new[] { (0, 1.9), (1, 3.2), (2, 1.2) })
            Assert.InRange(minutes, setups[at].GetProperty("fromMinutes").GetDouble(), setups[at].GetProperty("toMinutes").GetDouble());
        Assert.Equal("learnt from 18 changes", setups[1].GetProperty("origin").GetString());
        Assert.Equal("a default", setups[3].GetProperty("origin").GetString());
        Assert.Contains("known from", Ran.Command("order", Ran.Sample("order", "learnt.json")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Gauge_prints_the_printed_study()
    {
        // AIAG Measurement Systems Analysis, 4th ed. 2010, ch. III-B, worked example (data read in two public test suites).
        JsonElement json = Ran.Command("gauge", Ran.InRepository("tests", "Core.Tests", "Data", "gauge_crossed_msa.csv"), "--json").Json;
        JsonElement gauge = json.GetProperty("components").EnumerateArray().Single(c => c.GetProperty("source").GetString() == "gauge");

        Assert.Equal(88.3619, json.GetProperty("anova")[0].GetProperty("sumOfSquares").GetDouble(), 5e-5);
        Assert.Equal(27.86, gauge.GetProperty("percentStudyVariation").GetDouble(), 5e-3);
    }

    [Fact]
    public void Learn_finds_the_sample_s_bias_step_and_wild_reading()
    {
        JsonElement rig = Ran.Command("learn", Ran.Sample("learn", "log.csv"), "--json").Json.GetProperty("rigs")[0];

        // The sample is made with +0.45° (fine wheel +0.55°), a knock of +0.9° before its 34th piece and a wild reading at its 21st.
        JsonElement step = Assert.Single(rig.GetProperty("steps").EnumerateArray());
        Assert.Equal("rig", step.GetProperty("of").GetString());
        Assert.InRange(step.GetProperty("line").GetInt32(), 33, 37);
        Assert.Equal(0.9, step.GetProperty("sizeDeg").GetDouble(), 0.4);
        Assert.Equal([22], rig.GetProperty("wildLines").EnumerateArray().Select(l => l.GetInt32()));
        Assert.All(rig.GetProperty("wheels").EnumerateArray(), w => Assert.InRange(w.GetProperty("proposedCorrectionDeg").GetDouble(), 1.1, 1.8));
    }

    [Theory]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minutes": -3 } ], "changeMinutes": [[0, 1], [0, 0]] }""", "$.jobs[0].minutes is -3")]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minuts": 3 } ], "changeMinutes": [[0, 1], [0, 0]] }""", "did you mean minutes")]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minutes": 3 } ], "changeMinutes": [[0, 1]] }""", "1 jobs need 2")]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minutes": 3, "after": ["a"] } ], "changeMinutes": [[0, 1], [0, 0]] }""", "wait for each other")]
    [InlineData("order", """{ "jobs": [], "changeMinutes": [[0]] }""", "at least one job")]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minutes": 3 } ], "setups": {} }""", "$.jobs[0].setup: missing")]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minutes": 3, "setup": {} } ], "setups": { "seen": [ { "minutes": 2, "changes": ["jaw"] } ] } }""", "\"jaw\" is none")]
    [InlineData("order", """{ "jobs": [ { "id": "a", "minutes": 3, "setup": {} } ], "setups": {}, "changeMinutes": [[0, 1], [0, 0]] }""", "one of the two")]
    [InlineData("plan", """{ "abrasives": [ { "name": "a", "system": "fepa-f", "grade": "F221", "areaPerPassMm2": 0.01 } ], "areaMm2": { "left": 1, "right": 1 }, "finishD50Um": 3, "maxRatio": 4 }""", "no grade of fepa-f")]
    [InlineData("plan", """{ "abrasives": [ { "name": "a", "system": "fepa-f", "grade": "F220", "areaPerPassMm2": 0 } ], "areaMm2": { "left": 1, "right": 1 }, "finishD50Um": 3, "maxRatio": 4 }""", "areaPerPassMm2 is 0")]
    [InlineData("plan", """{ "abrasives": [ { "name": "a", "system": "fepa-f", "grade": "F220", "areaPerPassMm2": 1 } ], "areaMm2": { "left": 0, "right": 0 }, "finishD50Um": 3, "maxRatio": 4 }""", "one of the two sides above 0")]
    [InlineData("gauge", "part,operator,trial,value\n1,A,1,x\n", "line 2, value is x")]
    [InlineData("gauge", "part,operater,trial,value\n1,A,1,2\n", "did you mean operator")]
    [InlineData("gauge", "", "the column part is missing")]
    [InlineData("learn", "when,rig,wheel,setDeg,gotDeg,uDeg\n2026-11-20,r,w,15,15.2,0\n", "line 2, uDeg is 0")]
    [InlineData("learn", "when,rig,wheel,setDeg,gotDeg,uDeg\nyesterday,r,w,15,15.2,0.3\n", "line 2, when is yesterday")]
    [InlineData("learn", "when,rig,wheel,setDeg,gotDeg,uDeg\n2026-11-20,r,,15,15.2,0.3\n", "line 2, wheel")]
    [InlineData("learn", "when,rig,wheel,setDeg,gotDeg,uDeg\n2026-11-20,r,w,15,\"1,000\",0.3\n", "may be 1 or 1000")]
    public void Wrong_input_ends_with_2_and_names_field_and_value(string verb, string input, string named)
    {
        Ran ran = Ran.WithInput(input, verb, "-", "--json");

        Assert.Equal(2, ran.Code);
        Assert.Equal("", ran.Out);
        Assert.Contains(named, ran.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("gauge", "part,operator,trial,value\n1,A,1,2\n2,A,1,3\n", "too-few-operators")]
    [InlineData("plan", """{ "abrasives": [ { "name": "a", "system": "fepa-f", "grade": "F220", "areaPerPassMm2": 1 } ], "areaMm2": { "left": 1, "right": 1 }, "finishD50Um": 3, "maxRatio": 4 }""", "no-chain")]
    public void Work_that_cannot_be_done_ends_with_3_and_its_reasons_as_JSON(string verb, string input, string code)
    {
        Ran ran = Ran.WithInput(input, verb, "-", "--json");

        Assert.Equal(3, ran.Code);
        Assert.Equal(code, ran.Json.GetProperty("reasons")[0].GetProperty("code").GetString());
    }

    [Fact]
    public void A_decimal_comma_in_a_table_with_semicolons_is_a_decimal_comma()
    {
        JsonElement json = Ran.WithInput("when;rig;wheel;setDeg;gotDeg;uDeg\n2026-11-20;r;w;15;15,5;0,3\n", "learn", "-", "--json").Json;

        // One reading of 0.5° ± 0.3° against priors: somewhere between 0 and 0.5.
        Assert.InRange(json.GetProperty("rigs")[0].GetProperty("wheels")[0].GetProperty("biasDeg").GetDouble(), 0.1, 0.5);
    }
}
