using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures.Clamping;

public sealed class ClampSearchTests
{
    public static TheoryData<string> Samples => [.. ClampSamples.Names];

    [Theory]
    [MemberData(nameof(Samples))]
    public void The_best_clamp_is_proved_to_a_hundredth_of_a_degree(string name)
    {
        ClampProblem problem = ClampSamples.Problem(name, [.. TwoSides()]);
        Clamp clamp = ClampSamples.Found(ClampSearch.Best(problem, TestContext.Current.CancellationToken));
        TestContext.Current.TestOutputHelper?.WriteLine($"{name}: worst {clamp.WorstDeg:0.0000} bound {clamp.BoundDeg:0.0000} at {clamp.Pivot} boxes {clamp.BoxesTried}");
        Assert.NotNull(clamp.BoundDeg);
        Assert.InRange(clamp.WorstDeg - clamp.BoundDeg!.Value, 0, 0.01);
    }

    private static IEnumerable<ClampChannel> TwoSides()
    {
        yield return ClampSamples.Wheel(124, 14, 13, "left") with { Side = Side.Left };
        yield return ClampSamples.Wheel(124, -14, 13, "right") with { Side = Side.Right };
    }
}
