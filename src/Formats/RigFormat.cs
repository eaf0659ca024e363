using Whetwright.Core.Fixtures;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>rig.json: a machine or stone with its geometry. Described in docs/formats/rig.schema.json.</summary>
public static class RigFormat
{
    private const double UsualLearntUDeg = 0.2; // chosen, not derived: where somebody typed a correction and not how well it is known

    private static readonly string[] CommonKeys = ["kind", "name", "learntDeg", "learntUDeg", "supportUMm"];

    private static readonly Dictionary<string, string[]> KeysOfKind = new(StringComparer.Ordinal)
    {
        ["wheel-and-bar"] =
        [
            "wheels", "barDiameterMm", "seat", "offsetMm", "holderHalfThicknessMm", "grip", "fixedJawSide", "jawToPivotMm", "jawDepthMm",
            "barSlide", "pivotXMm", "pivotDistanceMm", "now", "distanceUMm", "offsetUMm",
        ],
        ["guided-rod"] = ["faceOffsetMm", "pivotHeightMm", "pivotXMm", "pivotDistanceMm", "jawToPivotMm", "jawHalfThicknessMm", "now"],
        ["bench-stone"] = ["support", "coinsMm", "pivotXMm", "pivotDistanceMm"],
        ["dial"] = ["markUDeg"],
        ["slack-belt"] = [],
    };

    /// <summary>Keys of the document, over all kinds.</summary>
    public static IReadOnlyList<string> Keys { get; } =
        [.. CommonKeys, .. KeysOfKind.Values.SelectMany(k => k).Distinct(StringComparer.Ordinal)];

    /// <summary>Keys of a wheel.</summary>
    public static IReadOnlyList<string> WheelKeys { get; } = ["name", "diameterMm", "diameterUMm", "offsetDeg", "rpm", "markedLimitMs", "learntDeg", "learntUDeg", "wornMm", "wornUMm", "measuredOn"];

    /// <summary>Keys of the bar's slide.</summary>
    public static IReadOnlyList<string> SlideKeys { get; } = ["acrossMm", "directionDeg", "pitchMm"];

    /// <summary>Keys of how the rig stands now.</summary>
    public static IReadOnlyList<string> NowKeys { get; } = ["wheel", "barCentreToAxisMm", "pivotHeightMm"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<Rig> Read(string json) => FieldReader.Document(json, Keys, From);

    internal static Rig? From(FieldReader root)
    {
        string? kind = root.RequiredWord("kind", [.. KeysOfKind.Keys]);
        if (kind is null)
            return null;
        string[] mine = [.. CommonKeys, .. KeysOfKind[kind]];
        foreach (string key in Keys.Where(k => root.Has(k) && !mine.Contains(k, StringComparer.Ordinal)))
            root.Fault(key, $"a {kind} has no such key; did you mean {NearestName.To(key, mine)}? Known here: {string.Join(", ", mine)}");
        string name = root.Text("name") ?? "";
        double? learnt = root.AngleDeg("learntDeg", new Limits(-20, 20));
        double learntU = root.AngleDeg("learntUDeg", new Limits(0, 20)) ?? UsualLearntUDeg;
        PivotBox? box = ReadBox(root);
        Rig? rig = kind switch
        {
            "wheel-and-bar" => ReadWheelAndBar(root),
            "guided-rod" => ReadGuidedRod(root),
            "bench-stone" => new BenchStoneRig
            {
                Support = root.Word("support", "mid-plane", "spine-corner") switch
                {
                    "mid-plane" => StoneSupport.MidPlane,
                    "spine-corner" => StoneSupport.SpineCorner,
                    _ => null,
                },
                CoinsMm = root.Numbers("coinsMm", Limits.PositiveTo(100), "mm"),
            },
            "dial" => new DialRig { MarkU = root.AngleDeg("markUDeg", new Limits(0, 10)) is { } u ? Angle.FromDegrees(u) : null },
            _ => new SlackBeltRig(),
        };
        if (rig is null)
            return null;
        rig = rig with
        {
            Name = name,
            Box = box,
            SupportUMm = root.LengthMm("supportUMm", Limits.NotNegative),
            LearntCorrection = learnt is { } e ? MeasuredAngle.FromDegrees(e, learntU) : null,
        };
        foreach (Reason reason in rig.Refusals())
        {
            string field = reason.Text.Split(' ', '.', '[')[0];
            root.Fault(Keys.Contains(field, StringComparer.Ordinal) ? field : "kind", reason.Text);
        }

        return rig;
    }

    private static PivotBox? ReadBox(FieldReader root) =>
        root.RangeMm("pivotXMm", Limits.Any) is { } x && root.RangeMm("pivotDistanceMm", Limits.Positive) is { } d
            ? new(x.From, x.To, d.From, d.To)
            : null;

    private static WheelAndBarRig? ReadWheelAndBar(FieldReader root)
    {
        if (!root.Has("wheels"))
        {
            root.Fault("wheels", "missing; at least one wheel {\"name\":…, \"diameterMm\":…} would be right");
            return null;
        }

        List<Wheel> wheels = [];
        foreach (FieldReader wheel in root.Objects("wheels", [.. WheelKeys]))
        {
            if (ReadWheel(wheel) is { } made)
                wheels.Add(made);
        }

        if (root.CountOf("wheels") != wheels.Count)
            return null;
        BarSlide? slide = null;
        if (root.Object("barSlide", [.. SlideKeys]) is { } posts)
        {
            double across = posts.RequiredLengthMm("acrossMm", new Limits(-3000, 3000));
            slide = new(across, posts.AngleDeg("directionDeg", new Limits(-360, 360)) ?? 90, posts.LengthMm("pitchMm", Limits.Positive));
        }

        BarNow? now = null;
        if (root.Object("now", [.. NowKeys]) is { } stands)
        {
            string? wheel = stands.Text("wheel");
            double centre = stands.RequiredLengthMm("barCentreToAxisMm", Limits.Positive);
            if (stands.Has("pivotHeightMm"))
                stands.Fault("pivotHeightMm", "a wheel-and-bar has no such key; did you mean barCentreToAxisMm?");
            now = new(wheel ?? (wheels.Count > 0 ? wheels[0].Name : ""), centre);
        }

        return new()
        {
            Wheels = wheels,
            BarDiameterMm = root.LengthMm("barDiameterMm", Limits.Positive),
            Seat = root.Word("seat", "through", "rests") switch { "through" => BarSeat.Through, "rests" => BarSeat.Rests, _ => null },
            OffsetMm = root.LengthMm("offsetMm", Limits.Any),
            HolderHalfThicknessMm = root.LengthMm("holderHalfThicknessMm", Limits.NotNegative),
            Grip = root.Word("grip", "self-centring", "fixed-jaw") switch { "self-centring" => GripKind.SelfCentring, "fixed-jaw" => GripKind.FixedJaw, _ => null },
            FixedJawSide = root.Word("fixedJawSide", "left", "right") switch { "left" => Side.Left, "right" => Side.Right, _ => null },
            JawToPivotMm = root.LengthMm("jawToPivotMm", Limits.NotNegative),
            JawDepthMm = root.LengthMm("jawDepthMm", Limits.NotNegative),
            Slide = slide,
            Now = now,
            DistanceUMm = root.LengthMm("distanceUMm", Limits.NotNegative),
            OffsetUMm = root.LengthMm("offsetUMm", Limits.NotNegative),
        };
    }

    private static Wheel? ReadWheel(FieldReader wheel)
    {
        if (wheel.Text("name") is not { Length: > 0 } name)
        {
            wheel.Fault("name", "missing; a name such as \"coarse\" would be right");
            name = "";
        }

        double diameter = wheel.RequiredLengthMm("diameterMm", new Limits(10, 2000));
        double? u = wheel.LengthMm("diameterUMm", new Limits(0, 50));
        double offset = wheel.AngleDeg("offsetDeg", new Limits(-10, 20)) ?? 0;
        double? rpm = wheel.Number("rpm", Limits.Positive, "turns a minute");
        double? limit = wheel.Number("markedLimitMs", Limits.Positive, "m/s");
        double? learnt = wheel.AngleDeg("learntDeg", new Limits(-20, 20));
        double learntU = wheel.AngleDeg("learntUDeg", new Limits(0, 20)) ?? UsualLearntUDeg;
        double? worn = wheel.LengthMm("wornMm", new Limits(0, 2000)), wornU = wheel.LengthMm("wornUMm", new Limits(0, 2000));
        if (wornU is not null && worn is null)
            wheel.Fault("wornUMm", "stands without wornMm; give both or neither");
        return !double.IsFinite(diameter) ? null : new(name, MeasuredLength.FromMillimetres(diameter, u ?? Wheel.UsualDiameterUMm))
        {
            Offset = Angle.FromDegrees(offset),
            Rpm = rpm,
            MarkedLimitMs = limit,
            DiameterUIsDefault = u is null,
            LearntCorrection = learnt is { } e ? MeasuredAngle.FromDegrees(e, learntU) : null,
            Worn = worn is { } lost ? MeasuredLength.FromMillimetres(lost, wornU ?? lost) : null,
            MeasuredOn = wheel.Day("measuredOn"),
        };
    }

    private static GuidedRodRig? ReadGuidedRod(FieldReader root)
    {
        if (!root.Has("pivotHeightMm"))
            root.Fault("pivotHeightMm", "missing; two lengths [lowest, highest] over the mid-plane would be right");
        double? now = null;
        if (root.Object("now", [.. NowKeys]) is { } stands)
            now = stands.RequiredLengthMm("pivotHeightMm", Limits.Positive);
        return root.RangeMm("pivotHeightMm", Limits.NotNegative) is not { } range ? null : new()
        {
            PivotHeightMm = range,
            FaceOffsetMm = root.LengthMm("faceOffsetMm", new Limits(-200, 200)),
            JawToPivotMm = root.LengthMm("jawToPivotMm", Limits.NotNegative),
            JawHalfThicknessMm = root.LengthMm("jawHalfThicknessMm", Limits.NotNegative),
            NowPivotHeightMm = now,
        };
    }
}
