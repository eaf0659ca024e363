using Whetwright.Core.Metrology;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>
/// Readings of 2,000 invented blades of known truth: the stated uncertainties must be as large as the errors made, no larger and no smaller.
/// The truth is drawn from what the combination assumes; the marks pass through the exact optics.
/// </summary>
public sealed class CalibrationOfReadingsTests
{
    private const int Blades = 2000;
    private const double ScatterDeg = 0.25;
    private static readonly ReadingAssumptions Assumed = ReadingAssumptions.Default with
    {
        // A scatter that is told, not learnt from the few mounts at hand, so that the test is of the solve.
        ScatterPriorDegreesOfFreedom = 1e9,
    };

    [Fact]
    public void Included_angles_err_as_much_as_their_uncertainties_say_and_so_do_sides_as_solved()
    {
        List<double> included = [], side = [], reported = [];
        RandomDraws random = new(20261125);
        for (int i = 0; i < Blades; i++)
        {
            (BenchMarks marks, double left, double right) = Bench(random, turning: false);
            CombinedReading reading = BenchReading.Combine(marks);
            if (reading.Outcome != ReadingOutcome.Read || reading.Wild is not null)
                continue;
            included.Add(Z(reading.Included!.Value, left + right));
            side.Add(Z(reading.Solution!.Of(Side.Left, MarkRole.Edge), left));
            reported.Add(Z(EdgeOf(reading, Side.Left), left));
        }

        Assert.True(included.Count > 0.99 * Blades, $"only {included.Count} read without a mark called wild");
        Assert.InRange(Spread(included), 0.9, 1.1);
        Assert.InRange(Spread(side), 0.9, 1.1);
        Assert.InRange(Spread(reported), 0.5, 1.05);   // no credit for averaging clampings: never bolder than the solve
    }

    [Fact]
    public void Where_the_clamping_error_turns_with_the_blade_the_reported_sides_err_as_they_say()
    {
        List<double> side = [];
        RandomDraws random = new(20261126);
        for (int i = 0; i < Blades / 2; i++)
        {
            (BenchMarks marks, double left, _) = Bench(random, turning: true);
            CombinedReading reading = BenchReading.Combine(marks);
            if (reading.Outcome == ReadingOutcome.Read)
                side.Add(Z(EdgeOf(reading, Side.Left), left));
        }

        Assert.InRange(Spread(side), 0.9, 1.1);
    }

    private static MeasuredAngle EdgeOf(CombinedReading reading, Side blade) => reading.Sides.Single(s => s.Blade == blade).Edge!.Value;

    private static double Z(MeasuredAngle got, double truth) => (got.Value.Degrees - truth) / got.StandardUncertainty.Degrees;

    private static double Spread(List<double> z) => Math.Sqrt(z.Average(v => v * v));

    /// <summary>Two mounts, turned end for end, of one blade: marks in millimetres to the half millimetre, distance and zero off by their uncertainty.</summary>
    private static (BenchMarks Marks, double Left, double Right) Bench(RandomDraws random, bool turning)
    {
        double left = 10 + (10 * random.Uniform()), right = 10 + (10 * random.Uniform());
        double roll = random.Normal();
        double distance = 100 + (0.4 * random.Normal()), zero = 0.3 * random.Normal();
        double withBlade = ScatterDeg * random.Normal();
        BenchMount[] mounts = [.. new[] { TipDirection.Up, TipDirection.Down }.Select(tip =>
        {
            double clamp = turning ? (tip == TipDirection.Up ? withBlade : -withBlade) : ScatterDeg * random.Normal();
            double Outward(Side target)
            {
                int sign = target == Side.Right ? 1 : -1;
                double bevel = Sides.BladeSide(target, tip) == Side.Left ? left : right;
                UnitVector3 n = SpecularReflection.FacetNormal(target, Angle.FromDegrees(bevel), Angle.FromDegrees(roll + clamp));
                double x = SpecularReflection.MarkOf(n, new(Length.FromMillimetres(distance), new(zero, 0)))!.Value.X;
                return Math.Round(sign * x * 2) / 2;
            }

            return BenchMounts.Mount(tip, Outward(Side.Left), Outward(Side.Right));
        })];
        Instrument instrument = new(MeasuredLength.FromMillimetres(100, 0.4), MeasuredLength.FromMillimetres(0, 0.3)) { Scatter = Angle.FromDegrees(ScatterDeg) };
        return (new(MarkScale.TargetMillimetres, 0.5, mounts) { Instrument = instrument, ResolutionMm = 0.5, Assumptions = Assumed }, left, right);
    }
}
