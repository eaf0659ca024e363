using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>A reading from some other scale.</summary>
/// <param name="Combined">The reading, through the same combination as marks read by eye; its marks carry their place in the photo.</param>
/// <param name="SetUp">What stood behind it, for <c>--explain</c>; null where refused before that.</param>
/// <param name="Reasons">Why there is no reading; empty where there is one.</param>
public sealed record ScaleReading(CombinedReading? Combined, BenchSetUp? SetUp, IReadOnlyList<Reason> Reasons)
{
    /// <summary>A mark nearer to zero than this is the bare beam. Chosen, not derived.</summary>
    public const double BareBeamDeg = 0.75;

    private const int MostPerSide = 3;

    /// <summary>
    /// Reads a photo of a scale whose graduations were pointed out. Which mark is which is judged by order alone (common practice, no source): on either
    /// side the outermost of two is the edge's, the inner one the primary's; of three the outermost is the micro-bevel's.
    /// </summary>
    /// <exception cref="ArgumentException">Graduations from which no map can be made.</exception>
    public static ScaleReading Read(Picture photo, GraduatedScale scale, MarkScale meaning, LaserColour laser, TipDirection? tip, bool hasBack, Instrument? instrument)
    {
        double perBevel = meaning == MarkScale.Deflection ? 2 : 1;
        ScaleMark[] marks = [.. ScaleReader.Read(photo, scale, laser).Where(m => Math.Abs(m.OnScale.Value.Degrees) > BareBeamDeg * perBevel)];
        if (marks.Length == 0)
            return Refuse("no-marks", "No mark stands out along the scale. Check that the graduations lie on the row where the light falls, darken the room, and expose for the marks.");
        ScaleMark[] left = [.. marks.Where(m => m.OnScale.Value < Angle.Zero).OrderByDescending(m => m.OnScale.Value)];
        ScaleMark[] right = [.. marks.Where(m => m.OnScale.Value > Angle.Zero).OrderBy(m => m.OnScale.Value)];
        if (left.Length > MostPerSide || right.Length > MostPerSide)
            return Refuse("ambiguous", FormattableString.Invariant($"{left.Length} marks stand left of zero and {right.Length} right: more than primary, edge and micro-bevel. Shade stray light, or type the edge's marks as read by eye (read --marks)."));
        double resolution = Math.Sqrt(12) * marks.Max(m => m.OnScale.StandardUncertainty.Degrees);
        BenchMarks bench = new(meaning, Math.Max(resolution, 0.01), [new(tip, Side(left), Side(right))]) { HasBack = hasBack, Instrument = instrument };
        BenchObservations made = BenchReading.Observations(bench);
        CombinedReading combined = ReadingCombination.Combine(made.Marks, made.Knowledge);
        Reason byOrder = new("roles-by-order", "Which mark is the primary's and which the edge's was judged by their order from zero alone; check it against the photo.");
        return new(combined with
        {
            Marks = [.. combined.Marks.Select(m => m with { PhotoPx = Seen(m, m.Target == Core.Quantities.Side.Left ? left : right)?.PhotoPx })],
            Reasons = left.Length > 1 || right.Length > 1 ? [.. combined.Reasons, byOrder] : combined.Reasons,
        }, made.SetUp, []);
    }

    private static ScaleMark? Seen(ReadMark mark, ScaleMark[] inOrder)
    {
        int at = mark.Role switch { MarkRole.Primary => 0, MarkRole.Edge => inOrder.Length == 1 ? 0 : 1, _ => 2 };
        return at < inOrder.Length ? inOrder[at] : null;
    }

    private static BenchSideMarks Side(ScaleMark[] inOrder)
    {
        double[] deg = [.. inOrder.Select(m => Math.Abs(m.OnScale.Value.Degrees))];
        return deg.Length switch
        {
            0 => BenchSideMarks.None,
            1 => new([deg[0]], [], []),
            2 => new([deg[1]], [deg[0]], []),
            _ => new([deg[1]], [deg[0]], [deg[2]]),
        };
    }

    private static ScaleReading Refuse(string code, string text) => new(null, null, [new(code, text)]);
}
