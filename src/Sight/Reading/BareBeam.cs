using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>Where the bare beam falls, or why that cannot be told.</summary>
/// <param name="OffZeroMm">From the target's zero, mm as drawn, x right, y down; null where refused.</param>
/// <param name="UMm">Standard uncertainty of either coordinate.</param>
/// <param name="PhotoPx">The same place in the photo.</param>
/// <param name="Reason">Why nothing was read; null where it was.</param>
public sealed record BareBeamReading(Point2? OffZeroMm, double UMm, Point2? PhotoPx, Reason? Reason);

/// <summary>Reads a photo of the bare beam, the blade taken out: the one light on the field, which fixes the instrument's zero.</summary>
public static class BareBeam
{
    /// <summary>Chosen, not derived: light fainter than this is noise; the roles of marks use the like.</summary>
    private const double LeastSignal = 15;

    /// <summary>A second light stronger than this part of the first is no ghost. Chosen, not derived.</summary>
    private const double LargestSecond = 0.2;

    /// <summary>Farther from zero than this no beam is taken for the bare one. Chosen, not derived.</summary>
    private const double FarthestMm = 25;

    /// <summary>A spot's middle is known to this part of its spread; the mark reader uses the same. Chosen, not derived.</summary>
    private const double SpreadShare = 0.06;

    /// <summary>Reads.</summary>
    /// <param name="photo">The lit photo.</param>
    /// <param name="target">The printed target.</param>
    /// <param name="laser">Colour of the laser.</param>
    public static BareBeamReading Read(Picture photo, TargetSheet target, LaserColour laser = LaserColour.Unknown)
    {
        SheetSearch search = SheetFinder.Find(photo, target.Fiducials);
        if (search.Sheet is not { } sheet)
            return new(null, 0, null, search.Reason);
        SheetField field = SheetField.From(photo, sheet.Map, target);
        MarkShape[] lights = laser == LaserColour.Unknown
            ? Stronger(Lights(LaserLight.From(field, LaserColour.Red, null), target), Lights(LaserLight.From(field, LaserColour.Green, null), target))
            : Lights(LaserLight.From(field, laser, null), target);
        if (lights.Length == 0)
            return Refuse("no-marks", "No light stands out on the field. Take the blade out, check that the laser is on, darken the room and expose for the spot.");
        MarkShape spot = lights[0];
        if (lights.Length > 1 && lights[1].Flux > LargestSecond * spot.Flux)
            return Refuse("several-marks", "More than one light falls on the field, so it cannot be told which is the bare beam. Take the blade out, and anything else in the beam.");
        Point2 off = new(spot.CentreXMm - target.ZeroMm.X, spot.CentreYMm - target.ZeroMm.Y);
        if (spot.AtRim || Math.Sqrt((off.X * off.X) + (off.Y * off.Y)) > FarthestMm)
            return Refuse("beam-off-zero", FormattableString.Invariant($"The light lies {off.X:0} mm across and {off.Y:0} mm down from the target's zero. Shift the target until the bare beam falls in the gap at 0, and take the photo again."));
        double spread = Math.Max(spot.AcrossSdMm, spot.AlongSdMm) * (1 + spot.Clipped);
        double u = Math.Sqrt(Math.Pow(SpreadShare * spread, 2) + (sheet.MapUMm * sheet.MapUMm));
        return new(off, u, sheet.Map.ToPhoto(new(spot.CentreXMm, spot.CentreYMm)), null);
    }

    private static MarkShape[] Lights(LaserLight light, TargetSheet target) =>
    [
        .. MarkShapes.Measure(light, MarkBlobs.In(light), target.ZeroMm, target.DistanceMm)
            .Where(s => !s.IsInk && s.SignalToNoise > LeastSignal).OrderByDescending(s => s.Flux),
    ];

    private static MarkShape[] Stronger(MarkShape[] a, MarkShape[] b) =>
        (a.Length == 0 ? 0 : a[0].SignalToNoise) >= (b.Length == 0 ? 0 : b[0].SignalToNoise) ? a : b;

    private static BareBeamReading Refuse(string code, string text) => new(null, 0, null, new(code, text));
}
