using BenchmarkDotNet.Attributes;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Speed.Fixtures;

/// <summary>
/// The best clamp on an edge of 200 stations, with and without proof, beside the downhill simplex of Math.NET Numerics on the same
/// objective (pivot x, pivot distance, bar distance), and the angle profile of one clamp.
/// </summary>
[MemoryDiagnoser]
public class ClampBenchmarks
{
    private readonly double[] _anglesDeg;
    private readonly ClampProblem _problem;
    private readonly Clamp _clamp;

    public ClampBenchmarks()
    {
        Blade blade = Blade.FromShape(new BladeShape(210, 46, 110, 24));
        ClampChannel channel = new("wheel", new WheelAndBarMap(123.4), Angle.FromDegrees(13));
        _problem = ClampProblem.TryMake(blade, [channel], new PivotBox(20, 200, 90, 190), out _, stations: 200)
            ?? throw new InvalidOperationException("The benchmark's own problem must be a valid one.");
        _anglesDeg = new double[_problem.Stations.Count];
        _clamp = ((ClampOutcome.Found)ClampSearch.Best(_problem)).Clamp;
    }

    [Benchmark(Baseline = true)]
    public double Certified() => ((ClampOutcome.Found)ClampSearch.Best(_problem)).Clamp.WorstDeg;

    [Benchmark]
    public double Uncertified() => ((ClampOutcome.Found)ClampSearch.Uncertified(_problem)).Clamp.WorstDeg;

    [Benchmark]
    public double SimplexOfMathNet()
    {
        IObjectiveFunction objective = ObjectiveFunction.Value(at => WorstDeg(at[0], at[1], at[2]));
        MinimizationResult found = new NelderMeadSimplex(1e-3, 20000).FindMinimum(
            objective, Vector<double>.Build.DenseOfArray([110, 140, 220]), Vector<double>.Build.DenseOfArray([20, 20, 10]));
        return found.FunctionInfoAtMinimum.Value;
    }

    [Benchmark]
    public double Profile()
    {
        ClampSetting setting = _clamp.Settings[0];
        ClampSearch.Profile(_problem, setting.Channel, _clamp.Pivot, setting.SettingMm, _anglesDeg);
        return _anglesDeg[^1];
    }

    private double WorstDeg(double x, double distance, double setting)
    {
        ClampSearch.Profile(_problem, _problem.Channels[0], new Point2(x, -distance), setting, _anglesDeg);
        double worst = 0;
        for (int i = _problem.FirstScored; i <= _problem.LastScored; i++)
            worst = Math.Max(worst, double.IsNaN(_anglesDeg[i]) ? 90 : Math.Abs(_anglesDeg[i] - 13));
        return worst;
    }
}
