using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Records.Kit;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Wheels;

/// <summary>A wheel; a new one with its diameter.</summary>
public sealed class WheelForm : WebForm
{
    internal WheelForm(UnitsView units, IReadOnlyList<AbrasiveKept> abrasives, WheelKept? wheel = null)
    {
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 60, Hint = "As you call it: coarse, leather." });
        if (wheel is null)
        {
            Diameter = Add(new LengthField("diameterMm", "Diameter today (B)", units) { Required = true, MinMm = 10, MaxMm = 2000, Hint = "By calliper, twice, a quarter turn apart." });
            UMm = Add(new LengthField("uMm", "How well it is known (standard uncertainty)", units) { MinMm = 0.001, MaxMm = 50, Hint = "Left empty: 0.25 mm, chosen, not derived." });
        }

        Abrasive = Add(new ChoiceField("abrasiveId", "Abrasive it is made of or carries", [.. abrasives.Select(a => new Choice(a.Id.ToString(CultureInfo.InvariantCulture), a.Name))]) { List = true });
        Offset = Add(new AngleField("offsetDeg", "Its own offset to the chosen angle", units) { MinDeg = -10, MaxDeg = 20, Hint = "A honing or stropping wheel a little steeper: 0.5." });
        Rpm = Add(new NumberField("rpm", "Speed") { Unit = "turns a minute", Min = 1, Max = 60000 });
        Limit = Add(new NumberField("markedLimitMs", "Largest surface speed marked on it") { Unit = "m/s", Min = 0.1, Max = 500, Hint = "Read it off the wheel; it wins over anything computed." });
        Minimum = Add(new LengthField("minimumDiameterMm", "Smallest diameter to use", units) { MinMm = 10, MaxMm = 2000, Hint = "Where its flange or the bar's reach ends it." });
        Retired = Add(new FlagField("retired", "No longer in use"));
        if (wheel is null)
            return;
        Name.Fill(wheel.Name);
        Abrasive.Fill(wheel.AbrasiveId?.ToString(CultureInfo.InvariantCulture));
        Offset.Fill(wheel.OffsetDeg == 0 ? null : Angle.FromDegrees(wheel.OffsetDeg));
        Rpm.Fill(wheel.Rpm, units);
        Limit.Fill(wheel.MarkedLimitMs, units);
        Minimum.Fill(KitAnswer.Mm(wheel.MinimumDiameterMm));
        Retired.Fill(wheel.Retired);
        VersionSeen = KitAnswer.Version(wheel.Version);
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>First diameter; null on the form of a known wheel.</summary>
    public LengthField? Diameter { get; }

    /// <summary>Its uncertainty.</summary>
    public LengthField? UMm { get; }

    /// <summary>Abrasive.</summary>
    public ChoiceField Abrasive { get; }

    /// <summary>Offset.</summary>
    public AngleField Offset { get; }

    /// <summary>Speed.</summary>
    public NumberField Rpm { get; }

    /// <summary>Marked limit.</summary>
    public NumberField Limit { get; }

    /// <summary>Smallest diameter.</summary>
    public LengthField Minimum { get; }

    /// <summary>No longer used.</summary>
    public FlagField Retired { get; }

    internal WheelTyped Typed(long rigId) => new()
    {
        RigId = rigId,
        Name = Name.Value,
        AbrasiveId = long.TryParse(Abrasive.Value, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : null,
        OffsetDeg = Offset.Value?.Degrees ?? 0,
        Rpm = Rpm.Value,
        MarkedLimitMs = Limit.Value,
        MinimumDiameterMm = Minimum.Value?.Millimetres,
        Retired = Retired.Value,
    };
}

/// <summary>Today's diameter, measured or after dressing.</summary>
public sealed class DiameterForm : WebForm
{
    internal DiameterForm(UnitsView units, DateTime nowUtc, long? latest)
    {
        Cause = Add(new ChoiceField("cause", "What happened", [new("Measured", "Measured", "it wore"), new("Dressed", "Dressed", "and measured"), new("New", "New wheel", "put on")]) { Required = true }).Fill("Measured");
        Diameter = Add(new LengthField("diameterMm", "Diameter now (B)", units) { Required = true, MinMm = 10, MaxMm = 2000, Hint = "By calliper, twice, a quarter turn apart." });
        UMm = Add(new LengthField("uMm", "How well it is known (standard uncertainty)", units) { MinMm = 0.001, MaxMm = 50, Hint = "Left empty: 0.25 mm, chosen, not derived." });
        At = Add(new MomentField("happenedAt", "When") { Required = true }).Fill(units.Local(nowUtc));
        VersionSeen = KitAnswer.Version(latest);
    }

    /// <summary>Why.</summary>
    public ChoiceField Cause { get; }

    /// <summary>Diameter.</summary>
    public LengthField Diameter { get; }

    /// <summary>Uncertainty.</summary>
    public LengthField UMm { get; }

    /// <summary>When.</summary>
    public MomentField At { get; }

    internal DiameterTyped Typed(UnitsView units) => new()
    {
        DiameterMm = Diameter.Value!.Value.Millimetres,
        UMm = UMm.Value?.Millimetres ?? Core.Fixtures.Wheel.UsualDiameterUMm,
        Cause = Enum.Parse<DiameterCause>(Cause.Value!),
        HappenedAt = units.Universal(At.Local!.Value),
    };
}
