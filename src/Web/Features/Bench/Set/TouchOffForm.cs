using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>One distance, measured after clamping and after each wheel change.</summary>
public sealed class TouchOffForm : WebForm
{
    internal TouchOffForm(UnitsView units, double? expectedMm, long? wheelId)
    {
        Measured = Add(new LengthField("measured", "Touch-off, measured", units) { Required = true, MinMm = 1, MaxMm = 1500, Hint = expectedMm is { } mm ? $"Expected {units.Length(mm, 1)}; type what you measure." : null });
        Wheel = Add(new TextField("wheel", "Wheel") { MaxLength = 20 });
        Wheel.Typed = wheelId?.ToString(CultureInfo.InvariantCulture) ?? "";
    }

    /// <summary>The distance.</summary>
    public LengthField Measured { get; }

    /// <summary>The wheel; hidden.</summary>
    public TextField Wheel { get; }

    internal long? WheelId => long.TryParse(Wheel.Typed, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : null;

    internal TouchOffForm From(TouchOff touch)
    {
        Measured.Fill(Length.FromMillimetres(touch.MeasuredMm));
        return this;
    }
}
