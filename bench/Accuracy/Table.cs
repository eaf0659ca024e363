using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Accuracy;

/// <summary>The must-hold figures of a set of trials, perfect-spot bound beside them.</summary>
internal static class Table
{
    public static void Print(IReadOnlyList<Trial> trials, Point2 zeroMm, bool sides)
    {
        var readable = trials.Where(t => !t.MayRefuse).ToList();
        var read = trials.Where(t => t.Error is not null).ToList();
        double[] errors = Sorted(read.Select(t => Math.Abs(t.Error!.Value)));
        double[] bounds = Sorted(read.Where(t => t.BoundError is not null).Select(t => Math.Abs(t.BoundError!.Value)));
        Console.WriteLine($"scenes {trials.Count}, readable {readable.Count}, read {read.Count}, refused though readable {readable.Count(t => t.Error is null)} ({100.0 * readable.Count(t => t.Error is null) / Math.Max(1, readable.Count):0.0} %), read though to be refused {trials.Count(t => t.ShouldRefuse && t.Error is not null)}, false reasons {trials.Count(FalseReason)}");
        Console.WriteLine($"included error: median {At(errors, 0.5):0.000}  p95 {At(errors, 0.95):0.000}  max {At(errors, 1):0.000}  above 1° {errors.Count(e => e > 1)}   bound: median {At(bounds, 0.5):0.000}  p95 {At(bounds, 0.95):0.000}   p95 ratio {At(errors, 0.95) / At(bounds, 0.95):0.00}");
        double rms = Math.Sqrt(read.Where(t => Math.Abs(t.Error!.Value) <= 1).Select(t => t.Error!.Value * t.Error.Value).DefaultIfEmpty(0).Average());
        double all = Math.Sqrt(read.Select(t => t.Error!.Value * t.Error.Value).DefaultIfEmpty(0).Average());
        Console.WriteLine($"coverage of ±2u {100.0 * read.Count(t => Math.Abs(t.Error!.Value) <= 2 * t.U!.Value) / Math.Max(1, read.Count):0.0} %, median u {At(Sorted(read.Select(t => t.U!.Value)), 0.5):0.000}, RMS error {all:0.000} (without those above 1°: {rms:0.000}); time median {At(Sorted(trials.Select(t => t.Milliseconds)), 0.5):0} ms");
        double[] asRead = Sorted(trials.SelectMany(t => new[] { t.AsReadError(Side.Left), t.AsReadError(Side.Right) }).OfType<double>().Select(Math.Abs));
        var asReadU = trials.SelectMany(t => new[] { (t.AsReadError(Side.Left), t.AsReadU(Side.Left)), (t.AsReadError(Side.Right), t.AsReadU(Side.Right)) }).Where(p => p.Item1 is not null).ToList();
        Console.WriteLine($"sides as read: median {At(asRead, 0.5):0.000}  p95 {At(asRead, 0.95):0.000}  max {At(asRead, 1):0.000}, coverage {100.0 * asReadU.Count(p => Math.Abs(p.Item1!.Value) <= 2 * p.Item2!.Value) / Math.Max(1, asReadU.Count):0.0} %");
        if (!sides)
            return;
        var turned = trials.Where(t => t.Scene.Turned is not null && t.Reading.Mounts is [{ HasBothEdges: true }, { HasBothEdges: true }]).ToList();
        double[] side = Sorted(turned.SelectMany(t => new[] { t.SideError(Side.Left), t.SideError(Side.Right) }).OfType<double>().Select(Math.Abs));
        double[] sideBound = Sorted(turned.SelectMany(t => new[] { t.SideBound(zeroMm).Left, t.SideBound(zeroMm).Right }).OfType<double>().Select(Math.Abs));
        var pairs = turned.SelectMany(t => new[] { (t.SideError(Side.Left), t.SideU(Side.Left)), (t.SideError(Side.Right), t.SideU(Side.Right)) }).Where(p => p.Item1 is not null).ToList();
        Console.WriteLine($"true sides by turning ({turned.Count}): median {At(side, 0.5):0.000}  p95 {At(side, 0.95):0.000}  max {At(side, 1):0.000}   bound: median {At(sideBound, 0.5):0.000}  p95 {At(sideBound, 0.95):0.000}   p95 ratio {At(side, 0.95) / At(sideBound, 0.95):0.00}, coverage {100.0 * pairs.Count(p => Math.Abs(p.Item1!.Value) <= 2 * p.Item2!.Value) / Math.Max(1, pairs.Count):0.0} %");
    }

    /// <summary>A refusal that says a mark is missing where the truth calls it clear.</summary>
    public static bool FalseReason(Trial t)
    {
        if (t.Error is not null)
            return false;
        foreach (Reason r in t.Reading.Reasons)
        {
            bool left = r.Code is "mark-missing-left" or "no-marks" && Clear(t, "L");
            bool right = r.Code is "mark-missing-right" or "no-marks" && Clear(t, "R");
            if (left || right)
                return true;
        }

        return false;
    }

    public static string Visibility(Trial t) => $"L {Text(t, "L")} / R {Text(t, "R")}";

    private static bool Clear(Trial t, string side) => Text(t, side) == "clear";

    private static string Text(Trial t, string side) => t.Visibility(side);

    private static double[] Sorted(IEnumerable<double> values) => [.. values.Order()];

    private static double At(double[] sorted, double part) => sorted.Length == 0 ? double.NaN : sorted[(int)Math.Round(part * (sorted.Length - 1))];
}
