using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>Short ways to write mounts.</summary>
internal static class BenchMounts
{
    public static BenchMount Mount(TipDirection? tip, double left, double right) => new(tip, new([left], [], []), new([right], [], []));
}
