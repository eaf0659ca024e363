using Whetwright.Core.Sections;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>A piece's steel as the card-cut fit takes it.</summary>
public static class SteelOnBench
{
    /// <summary>The steel noted; null where none is.</summary>
    /// <param name="noted">The fact that counts: <see cref="BenchVisit.Steel"/>.</param>
    public static SteelData? Of(SteelNoted? noted) => noted is null ? null : new(noted.HardnessHrc)
    {
        CementitePercent = noted.CementitePercent,
        ChromiumCarbidePercent = noted.ChromiumCarbidePercent,
        ChromiumVanadiumCarbidePercent = noted.ChromiumVanadiumCarbidePercent,
        VanadiumCarbidePercent = noted.VanadiumCarbidePercent,
        TungstenCarbidePercent = noted.TungstenCarbidePercent,
        VanadiumNitridePercent = noted.VanadiumNitridePercent,
        ChromiumNitridePercent = noted.ChromiumNitridePercent,
    };
}
