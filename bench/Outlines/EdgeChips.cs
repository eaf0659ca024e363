using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Outlines;

/// <summary>Chips against the truth where blade, side and ends are told; every place that was weighed, with its evidence.</summary>
internal static class EdgeChips
{
    private const double LeastMm = 0.5;
    private static readonly List<double> s_deeper = [];
    private static readonly List<double> s_offMm3 = [];
    private static int s_photos;
    private static int s_true;
    private static int s_seen;
    private static int s_found;
    private static int s_invented;

    public static void Judge(string name, IReadOnlyList<WeighedNotch> weighed, Point2[] line, JsonElement truth, Func<Point2, double, Point2> seen)
    {
        double ds = line[0].DistanceTo(line[1]);
        double length = truth.GetProperty("lengthMm").GetDouble();
        var chips = truth.GetProperty("chips").EnumerateArray().Select(c =>
        {
            Point2 place = seen(new(c.GetProperty("placeMm")[0].GetDouble(), c.GetProperty("placeMm")[1].GetDouble()), c.GetProperty("atMm").GetDouble() / length);
            return (At: ds * Enumerable.Range(0, line.Length).MinBy(i => line[i].DistanceTo(place)), Depth: c.GetProperty("depthMm").GetDouble(), Width: c.GetProperty("widthMm").GetDouble(), Pointed: c.GetProperty("kind").GetString() == "v");
        }).ToList();
        bool Is(NotchFit g, (double At, double Depth, double Width, bool Pointed) c, double least = 2) => Math.Abs(g.AtMm - c.At) < Math.Max(least, 0.7 * c.Width);
        s_photos++;
        foreach ((NotchFit g, ChipEvidence e, _, _) in weighed)
        {
            bool real = chips.Any(c => Is(g, c));
            bool told = e.LogOdds >= ChipFinder.LeastLogOdds;
            s_invented += told && !real ? 1 : 0;
            string what = (told, real) switch { (true, true) => "chip", (true, false) => "INVENTED", (false, true) => "OVERLOOKED", _ => "none" };
            string truly = real ? string.Create(CultureInfo.InvariantCulture, $"truly {chips.First(c => Is(g, c)).Depth:0.00}x{chips.First(c => Is(g, c)).Width:0.0}") : "";
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {what,-10} {name,-15} {truth.GetProperty("finish").GetString(),-8} at {g.AtMm:0.0} {g.Shape.DepthMm:0.00}x{g.Shape.WidthMm:0.0}{(g.Shape.Pointed ? 'v' : 'o')} odds {e.LogOdds:0.00} explained {e.Explained:0.000} stain {e.AsStain:0.000} near {e.OverNeighbours:0.00} dip {e.Dip:0.00}/{e.DeepDip:0.00} opened {g.Opened:0.00} over mottle {e.OverMottle:0.00} {truly}"));
        }

        foreach (var c in chips.Where(c => c.Depth >= LeastMm))
        {
            s_true++;
            bool looked = weighed.Any(g => Is(g.Notch, c));
            s_seen += looked ? 1 : 0;
            if (weighed.FirstOrDefault(g => Is(g.Notch, c) && g.Evidence.LogOdds >= ChipFinder.LeastLogOdds) is { Told: { } told } found)
            {
                s_offMm3.Add(Off(told, found.ToldAtMm - c.At, new(c.Depth, c.Width, c.Pointed)));
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  shape      {name,-15} at {c.At:0.0} {c.Depth:0.00}x{c.Width:0.0}{(c.Pointed ? 'v' : 'o')} told at {found.ToldAtMm:0.0} {told.DepthMm:0.00}x{told.WidthMm:0.0} roundness {told.Roundness:0.0} found as {found.Notch.Shape.DepthMm:0.00}x{found.Notch.Shape.WidthMm:0.0} at {found.Notch.AtMm:0.0} off {s_offMm3[^1]:0.00} mm3"));
                s_found++;
                s_deeper.Add(told.DepthMm - c.Depth);
            }

            if (!looked)
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  UNSEEN     {name,-15} {c.Depth:0.00}x{c.Width:0.0} at {c.At:0.0}"));
        }
    }

    public static void Sum()
    {
        double[] off = [.. s_deeper.Order()];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"chips of {LeastMm} mm: {s_found} of {s_true} found ({s_seen} weighed), {s_invented} invented on {s_photos} photos; told depth less true, median {(off.Length == 0 ? 0 : off[off.Length / 2]):0.00}, root mean square {Math.Sqrt(off.Select(v => v * v).DefaultIfEmpty(0).Average()):0.00} mm; outline off, squared along the edge, {s_offMm3.DefaultIfEmpty(0).Average():0.000} mm3 a chip, over 1 mm3 {s_offMm3.Count(v => v > 1)}"));
    }

    // The square of what lies between both outlines, summed along the edge, mm³: what a chip adds to the mean square of an edge, times its length.
    private static double Off(NotchShape told, double asideMm, NotchShape truly)
    {
        const double step = 0.02;
        int half = (int)(10 / step);
        return Enumerable.Range(-half, 2 * half).Sum(i => step * Math.Pow(told.At((i * step) - asideMm) - truly.At(i * step), 2));
    }
}
