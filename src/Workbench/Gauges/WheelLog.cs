using Whetwright.Core.Metrology.Learning;
using Whetwright.Records;
using Whetwright.Records.Kit;

namespace Whetwright.Workbench.Gauges;

/// <summary>What the book says of a wheel's wear.</summary>
/// <param name="WheelId">The wheel.</param>
/// <param name="History">Diameters since it was put on, those that stand, oldest first.</param>
/// <param name="Steel">Steel it took, visit by visit.</param>
/// <param name="Wear">The regression; null where it was never measured.</param>
public sealed record WheelLog(long WheelId, IReadOnlyList<DiameterEntry> History, IReadOnlyList<(DateTime At, double Mm3)> Steel, WheelWear? Wear)
{
    /// <summary>Puts it together.</summary>
    /// <param name="wheelId">The wheel.</param>
    /// <param name="diameters">Diameters of it and others, corrected ones too.</param>
    /// <param name="steel">Steel it took.</param>
    public static WheelLog Of(long wheelId, IReadOnlyCollection<DiameterEntry> diameters, IReadOnlyList<(DateTime At, double Mm3)> steel)
    {
        List<DiameterEntry> all = [.. diameters.Standing().Where(d => d.WheelId == wheelId).OrderBy(d => d.HappenedAt).ThenBy(d => d.Id)];
        int begun = all.FindLastIndex(d => d.Cause == DiameterCause.New);
        DiameterEntry[] history = [.. begun > 0 ? all.Skip(begun) : all];
        return new(wheelId, history, steel, history.Length == 0 ? null : WheelWear.Of(
            history.Select(d => new WheelMeasured(Utc(d.HappenedAt), d.DiameterMm, Math.Max(d.UMm, 0.001))),
            steel.Where(s => s.At >= history[0].HappenedAt).Select(s => new WheelWorked(Utc(s.At), Math.Max(0, s.Mm3))),
            history.Where(d => d.Cause == DiameterCause.Dressed).Select(d => new WheelDressed(Utc(d.HappenedAt), null))));
    }

    /// <summary>All wheels of some rigs.</summary>
    /// <param name="rigs">Rigs with their diameters.</param>
    /// <param name="steel">Steel by wheel.</param>
    public static IReadOnlyList<WheelLog> Of(IEnumerable<RigWhole> rigs, IReadOnlyDictionary<long, IReadOnlyList<(DateTime At, double Mm3)>> steel) =>
        [.. rigs.SelectMany(r => r.Rig.Wheels.Select(w => Of(w.Id, r.Diameters, steel.GetValueOrDefault(w.Id) ?? [])))];

    /// <summary>A time of the book as an instant.</summary>
    internal static DateTimeOffset Utc(DateTime at) => new(DateTime.SpecifyKind(at, DateTimeKind.Utc));
}
