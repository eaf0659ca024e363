using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>Surface speed of a wheel. Source: kinematics; [wheel-speed].</summary>
public static class WheelSpeed
{
    /// <summary>v = π·D·n/60000, m/s, D in mm, n in turns a minute.</summary>
    public static double SurfaceMs(double diameterMm, double rpm) => Math.PI * diameterMm * rpm / 60000;

    /// <summary>n = 60000·v/(π·D), turns a minute: the inverse.</summary>
    public static double Rpm(double diameterMm, double surfaceMs) => 60000 * surfaceMs / (Math.PI * diameterMm);

    /// <summary>1 m/s is 60/0.3048 feet a minute, exact by the definition of the foot.</summary>
    public static double FeetPerMinute(double surfaceMs) => surfaceMs * 60 / 0.3048;

    /// <summary>
    /// What to say about a wheel's speed: nothing where neither rpm nor limit is known is not said; a wheel beyond the limit marked on it is refused
    /// by <c>wheel-too-fast</c>. The marked limit wins over anything computed; a wheel that wears smaller runs slower at its surface.
    /// </summary>
    public static Reason? Caution(Wheel wheel)
    {
        if (wheel.Rpm is not { } rpm)
            return null;
        double speed = SurfaceMs(wheel.Diameter.Value.Millimetres, rpm);
        string now = FormattableString.Invariant($"{wheel.Name}: {speed:0.0} m/s at {rpm:0} turns a minute on {wheel.Diameter.Value}");
        if (wheel.MarkedLimitMs is not { } limit)
            return new("wheel-limit-unknown", $"{now}. The limit marked on the wheel is not given (markedLimitMs); read it off the wheel and stay below it.");
        return speed > limit
            ? new("wheel-too-fast", FormattableString.Invariant($"{now}, above the {limit:0.0} m/s marked on it. Do not run it: at most {Rpm(wheel.Diameter.Value.Millimetres, limit):0} turns a minute."))
            : null;
    }

    /// <summary>Derivation of the surface speed.</summary>
    public static Derivation Explain(double diameterMm, double rpm) => new(
        "surface speed", SurfaceMs(diameterMm, rpm), "m/s", "v = π·D·n/60000", "[wheel-speed]",
        [
            new("D", "wheel diameter", diameterMm, "mm", Math.PI * rpm / 60000),
            new("n", "turns a minute", rpm, "1/min", Math.PI * diameterMm / 60000),
        ],
        "fixtures.wheel-speed/1");
}
