using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Kit;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using CoreRig = Whetwright.Core.Fixtures.Rig;

namespace Whetwright.Web.Features.Kit.Rigs;

/// <summary>A rig as it is measured: each field is one dimension of the drawing beside it, or has a default that is said.</summary>
public sealed class RigForm : WebForm
{
    private readonly string before;
    private readonly List<(string Key, FormField From, FormField? To)> kept = [];
    private readonly UnitsView units;

    /// <summary>An empty form of this kind, or filled from a rig.</summary>
    internal RigForm(string kind, UnitsView units, RigKept? rig = null)
    {
        this.units = units;
        Kind = kind;
        before = rig?.RigJson ?? "{}";
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 60, Hint = "As you call it: bench 1, the stone." });
        switch (kind)
        {
            case "wheel-and-bar":
                WheelAndBar();
                break;
            case "guided-rod":
                GuidedRod();
                break;
            case "bench-stone":
                BenchStone();
                break;
            default:
                May("markUDeg", new AngleField("markUDeg", "How well a mark is set (standard uncertainty)", units) { MinDeg = 0, MaxDeg = 10, Hint = "Left empty: 0.5°, chosen, not derived." });
                break;
        }

        if (kind != "dial")
            May("supportUMm", Mm("supportUMm", "Uncertainty of the distance from pivot to edge", 0.001, 50, "Left empty: 1 mm, as a ruler gives it."));
        Retired = Add(new FlagField("retired", "No longer in use"));
        if (rig is null)
            return;
        Name.Fill(rig.Name);
        Retired.Fill(rig.Retired);
        VersionSeen = KitAnswer.Version(rig.Version);
        Fill(JsonNode.Parse(rig.RigJson) as JsonObject ?? []);
    }

    /// <summary>Kinds that can be described.</summary>
    public static IReadOnlyList<Choice> Kinds { get; } =
    [
        new("wheel-and-bar", "Wheel and bar", "Wheels on an axis, a bar beside them, a holder that swings on the bar"),
        new("guided-rod", "Guided rod", "The blade is clamped; a stone on a rod slides through a pivot above it"),
        new("bench-stone", "Bench stone", "A flat stone; the blade is lifted, or lies on a stack"),
        new("dial", "Dial or fixed guide", "Degrees are marked on it; what it really grinds is learnt from your checks"),
    ];

    /// <summary>Kind in files.</summary>
    public string Kind { get; }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>No longer used.</summary>
    public FlagField Retired { get; }

    /// <summary>What must be measured.</summary>
    public List<FormField> Needed { get; } = [];

    /// <summary>What has a stated default.</summary>
    public List<FormField> WithDefault { get; } = [];

    /// <summary>The rig as far as it can be read; null where it is refused. Refusals go to their fields.</summary>
    internal CoreRig? Read(IReadOnlyList<Wheel> wheels, bool tell)
    {
        switch (RigFormat.Read(Json(wheels)))
        {
            case FormatOutcome<CoreRig>.Read read:
                return read.Value;
            case FormatOutcome<CoreRig>.Refused refused when tell:
                foreach (FormatError error in refused.Errors)
                    Tell(error);
                return null;
            default:
                return null;
        }
    }

    /// <summary>The geometry as it is kept: wheels and stand are rows of their own.</summary>
    internal string Json() => Document().ToJsonString(Written);

    private static JsonSerializerOptions Written { get; } = new() { WriteIndented = true };

    private string Json(IReadOnlyList<Wheel> wheels)
    {
        JsonObject document = Document();
        if (Kind == "wheel-and-bar")
        {
            // The reader asks for a wheel; until the shop has entered one, one of a common size stands in to check the rest and to draw it.
            Wheel[] shown = wheels.Count > 0 ? [.. wheels] : [new("sample wheel", 250)];
            document["wheels"] = new JsonArray([.. shown.Select(w => (JsonNode)new JsonObject { ["name"] = w.Name, ["diameterMm"] = w.DiameterMm })]);
        }

        return document.ToJsonString();
    }

    private JsonObject Document()
    {
        JsonObject document = JsonNode.Parse(before) as JsonObject ?? [];
        document.Remove("wheels");
        document.Remove("now");
        document["kind"] = Kind;
        foreach ((string key, FormField from, FormField? to) in kept)
        {
            int dot = key.IndexOf('.', StringComparison.Ordinal);
            JsonObject into = document;
            if (dot > 0)
                into = document[key[..dot]] as JsonObject ?? (JsonObject)(document[key[..dot]] = new JsonObject())!;
            string name = key[(dot + 1)..];
            JsonNode? value = to is null ? Value(from) : Value(from) is { } a && Value(to) is { } b ? new JsonArray(a, b) : null;
            if (value is null)
                into.Remove(name);
            else
                into[name] = value;
        }

        if (document["barSlide"] is JsonObject { Count: 0 })
            document.Remove("barSlide");
        return document;
    }

    private static JsonNode? Value(FormField field) => field switch
    {
        LengthField length => length.Value is { } mm ? JsonValue.Create(Math.Round(mm.Millimetres, 6)) : null,
        AngleField angle => angle.Value is { } deg ? JsonValue.Create(Math.Round(deg.Degrees, 9)) : null,
        ChoiceField choice => choice.Value is { } key ? JsonValue.Create(key) : null,
        TextField list => list.Value is { } text && Whetwright.Workbench.TypedMarks.Repeats(text, out string? why) is { Count: > 0 } numbers && why is null
            ? new JsonArray([.. numbers.Select(n => (JsonNode)JsonValue.Create(n))]) : null,
        _ => null,
    };

    private void Tell(FormatError error)
    {
        string path = error.Path.StartsWith("$.", StringComparison.Ordinal) ? error.Path[2..] : error.Path;
        FormField? field = kept.Where(k => path == k.Key || path.StartsWith(k.Key + "[", StringComparison.Ordinal) || k.Key.StartsWith(path + ".", StringComparison.Ordinal)).Select(k => k.From).FirstOrDefault();
        string said = error.Value.Length == 0 ? error.Text : $"is {error.Value}; {error.Text}";
        if (field is null)
            Refuse($"{path}: {said}");
        else
            field.Refuse(said);
    }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        foreach ((_, FormField from, FormField? to) in kept)
        {
            if (to is LengthField { Value: { } most } && from is LengthField { Value: { } least } && least >= most)
                to.Refuse($"'{to.Typed}' is not above {from.Typed}; the larger of the two would be right");
            if (from is TextField { Value: { } text } list)
            {
                _ = Whetwright.Workbench.TypedMarks.Repeats(text, out string? why);
                if (why is not null)
                    list.Refuse(why);
            }
        }
    }

    private void WheelAndBar()
    {
        Range("pivotDistanceMm", "Edge to pivot", 5, 1500, "How far the edge can stand from the bar: jaw to pivot and protrusion together. C and D on the drawing.");
        Range("pivotXMm", "Pivot along the edge, from the heel", -500, 1000, "Where along the blade the holder can be clamped.");
        May("barDiameterMm", Mm("barDiameterMm", "Diameter of the bar (E)", 0.5, 200, "Left empty: 12 mm, common practice."));
        May("seat", new ChoiceField("seat", "The holder", [new("through", "has the bar through it"), new("rests", "rests on the bar")]));
        May("offsetMm", Mm("offsetMm", "Bar's centre off the blade's middle (F)", -200, 200, "Toward the blade's left is positive. Left empty: 0."));
        May("holderHalfThicknessMm", Mm("holderHalfThicknessMm", "Half the holder's thickness where it rests", 0, 200, "Counts only where the holder rests on the bar. Left empty: 6 mm."));
        May("jawToPivotMm", Mm("jawToPivotMm", "Jaw's front to the pivot (D)", 0, 2000, "Without it, protrusion is counted from the pivot."));
        May("jawDepthMm", Mm("jawDepthMm", "How deep the blade goes into the jaw", 0, 500, null));
        May("grip", new ChoiceField("grip", "The jaw", [new("self-centring", "closes from both sides"), new("fixed-jaw", "has one fixed side")]));
        May("fixedJawSide", new ChoiceField("fixedJawSide", "On the fixed side lies the blade's", [new("left", "left"), new("right", "right")]));
        May("barSlide.acrossMm", Mm("slideAcross", "Posts pass the axis at", -3000, 3000, "How far beside the wheels' axis the posts' line passes; 0 where they point at it."));
        May("barSlide.directionDeg", new AngleField("slideDirection", "Direction of the posts", units) { MinDeg = -360, MaxDeg = 360, Hint = "Left empty: 90°." });
        May("barSlide.pitchMm", Mm("slidePitch", "Pitch of the posts' thread", 0.05, 50, "Then turns are told beside millimetres."));
        May("distanceUMm", Mm("distanceUMm", "How well the bar is set (standard uncertainty)", 0.001, 50, "Left empty: 0.2 mm."));
    }

    private void GuidedRod()
    {
        Range("pivotHeightMm", "Pivot over the blade's middle", 0, 2000, "Lowest and highest it goes. A on the drawing.");
        Range("pivotDistanceMm", "Edge to under the pivot", 5, 1500, "Nearest and farthest that the edge can stand. B on the drawing.");
        Range("pivotXMm", "Pivot along the edge, from the heel", -500, 1000, "Where along the blade the pivot can stand.");
        May("faceOffsetMm", Mm("faceOffsetMm", "Stone's face below the rod's line (D)", -200, 200, "Left empty: 0; a face 25 mm off moves the angle by many degrees."));
        May("jawToPivotMm", Mm("jawToPivotMm", "Jaw's front to under the pivot", 0, 2000, null));
        May("jawHalfThicknessMm", Mm("jawHalfThicknessMm", "Half the jaw's thickness", 0, 200, null));
    }

    private void BenchStone()
    {
        May("support", new ChoiceField("support", "The lift goes", [new("spine-corner", "under the spine's lower corner"), new("mid-plane", "to the blade's middle")]));
        May("coinsMm", new TextField("coinsMm", "Coins or shims at hand, thickness in mm") { MaxLength = 120, Hint = "Up to eight, apart by a semicolon: 1,67; 2,33. The nearest stack is then told." });
    }

    private LengthField Mm(string name, string label, double least, double most, string? hint) => new(name, label, units) { MinMm = least, MaxMm = most, Hint = hint };

    private void Range(string key, string label, double least, double most, string hint)
    {
        string name = key[..^2];
        LengthField from = Add(new LengthField(name + "From", label + ", least", units) { MinMm = least, MaxMm = most, Required = true, Hint = hint });
        LengthField to = Add(new LengthField(name + "To", label + ", most", units) { MinMm = least, MaxMm = most, Required = true });
        Needed.Add(from);
        Needed.Add(to);
        kept.Add((key, from, to));
    }

    private void May<T>(string key, T field)
        where T : FormField
    {
        WithDefault.Add(Add(field));
        kept.Add((key, field, null));
    }

    private void Fill(JsonObject rig)
    {
        foreach ((string key, FormField from, FormField? to) in kept)
        {
            JsonNode? node = rig;
            foreach (string part in key.Split('.'))
                node = (node as JsonObject)?[part];
            if (to is not null && node is JsonArray { Count: 2 } two)
            {
                Put(from, two[0]);
                Put(to, two[1]);
            }
            else if (to is null)
            {
                Put(from, node);
            }
        }
    }

    private static void Put(FormField field, JsonNode? node)
    {
        switch (field)
        {
            case LengthField length when node is JsonValue v && v.TryGetValue(out double mm):
                length.Fill(Length.FromMillimetres(mm));
                break;
            case AngleField angle when node is JsonValue v && v.TryGetValue(out double deg):
                angle.Fill(Angle.FromDegrees(deg));
                break;
            case ChoiceField choice when node is JsonValue v && v.TryGetValue(out string? key):
                choice.Fill(key);
                break;
            case TextField text when node is JsonArray list:
                text.Fill(string.Join("; ", list.Select(n => n!.GetValue<double>().ToString(CultureInfo.CurrentCulture))));
                break;
        }
    }

    /// <summary>A wheel as the reader needs it.</summary>
    internal sealed record Wheel(string Name, double DiameterMm);
}
