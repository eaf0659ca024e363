using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures.Clamping;

/// <summary>Invented pieces and rigs, one for each kind of outline met in the trade.</summary>
internal static class ClampSamples
{
    public static readonly PivotBox Box = new(-40, 260, 60, 180);

    public static readonly string[] Names =
        ["straight", "chef", "long belly", "flat with drop", "petty", "drop point", "recurve", "cleaver", "bent", "short", "points"];

    public static Blade Of(string name) => name switch
    {
        "straight" => Blade.FromShape(new(180, 50, 0, 0), name),
        "chef" => Blade.FromShape(new(210, 48, 80, 28), name),
        "long belly" => Blade.FromShape(new(240, 48, 30, 26), name),
        "flat with drop" => Blade.FromShape(new(170, 46, 125, 20), name),
        "petty" => Blade.FromShape(new(135, 28, 60, 14), name),
        "drop point" => Blade.FromShape(new(85, 25, 35, 20), name),
        "recurve" => new Blade { Name = name, Edge = EdgeCurve.FromPolyline([.. Enumerable.Range(0, 81).Select(i => Recurved(i * 1.5))]) },
        "cleaver" => Blade.FromShape(new(200, 95, 0, 7), name),
        "bent" => Blade.FromShape(new(210, 48, 80, 28), name) with { Bend = Bend.FromBow(1.2, 210) },
        "short" => Blade.FromShape(new(45, 18, 10, 9), name),
        "points" => new Blade { Name = name, Edge = EdgeCurve.FromPolyline(Scattered(new(210, 48, 80, 28))) },
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "No such sample."),
    };

    public static ClampChannel Wheel(double radius = 124, double offset = 14, double deg = 13, string name = "wheel", double perSupport = 0) =>
        new(name, new WheelAndBarMap(radius), Angle.FromDegrees(deg)) { OffsetMm = offset, OffsetPerSupport = perSupport };

    public static ClampProblem Problem(string name, params ClampChannel[] channels) => Problem(Of(name), channels);

    public static ClampProblem Problem(Blade blade, params ClampChannel[] channels) =>
        ClampProblem.TryMake(blade, channels.Length > 0 ? channels : [Wheel()], Box, out IReadOnlyList<Reason> refusals)
        ?? throw new InvalidOperationException(refusals[0].Text);

    public static Clamp Found(ClampOutcome outcome) =>
        outcome is ClampOutcome.Found found ? found.Clamp : throw new InvalidOperationException(((ClampOutcome.Refused)outcome).Reasons[0].Text);

    private static Point2 Recurved(double x) => new(x, (2.5 * Math.Sin(Math.Tau * x / 120)) - (x > 75 ? (x - 75) * (x - 75) * 0.006 : 0));

    private static Point2[] Scattered(BladeShape shape)
    {
        Random random = new(11);
        return [.. EdgeCurve.FromShape(shape).Stations(120).Select(e => new Point2(e.XMm, e.YMm + (0.2 * (random.NextDouble() - 0.5))))];
    }
}
