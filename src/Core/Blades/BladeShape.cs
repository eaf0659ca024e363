using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>
/// An edge told by four lengths instead of an outline: straight from the heel to <paramref name="BellyFromMm"/>, from there a
/// circular arc, tangent to the straight, that reaches the tip at x = <paramref name="LengthMm"/>, fallen by
/// <paramref name="TipDropMm"/>. That the belly is an arc is chosen, not derived: a measured outline is better.
/// </summary>
/// <param name="LengthMm">From heel to tip along the straight, mm.</param>
/// <param name="HeightMm">Spine to edge at the heel, mm.</param>
/// <param name="BellyFromMm">Where the belly begins, from the heel, mm; zero for a belly all along.</param>
/// <param name="TipDropMm">How far the tip lies back from the line of the straight, mm; zero for a straight edge.</param>
public sealed record BladeShape(double LengthMm, double HeightMm, double BellyFromMm, double TipDropMm)
{
    /// <summary>Radius of the belly, R = ((L − b)² + t²)/(2t), mm; null for a straight edge. Source: [sagitta].</summary>
    public double? BellyRadiusMm
    {
        get
        {
            double run = LengthMm - BellyFromMm;
            return TipDropMm > 0 ? ((run * run) + (TipDropMm * TipDropMm)) / (2 * TipDropMm) : null;
        }
    }

    /// <summary>What is wrong with the shape, each naming its field; empty where nothing is.</summary>
    public IReadOnlyList<Reason> Refusals()
    {
        List<Reason> reasons = [];
        Check("shape.lengthMm", LengthMm, LengthMm is > 0 and <= EdgeCurve.LongestMm, $"above 0 and at most {EdgeCurve.LongestMm}");
        Check("shape.heightMm", HeightMm, HeightMm is > 0 and <= EdgeCurve.LongestMm, $"above 0 and at most {EdgeCurve.LongestMm}");
        Check("shape.bellyFromMm", BellyFromMm, BellyFromMm >= 0 && BellyFromMm < LengthMm, "from 0 to less than shape.lengthMm");
        Check("shape.tipDropMm", TipDropMm, TipDropMm >= 0 && double.IsFinite(TipDropMm), "0 or more");
        if (reasons.Count == 0 && TipDropMm > LengthMm - BellyFromMm)
        {
            reasons.Add(new("edge-shape", string.Create(
                CultureInfo.InvariantCulture,
                $"shape.tipDropMm is {TipDropMm}, more than the {LengthMm - BellyFromMm} mm of belly can fall without curling back; let the belly begin earlier, or give the outline as edgeMm.")));
        }

        return reasons;

        void Check(string field, double value, bool fine, string right)
        {
            if (!fine)
                reasons.Add(new("edge-shape", string.Create(CultureInfo.InvariantCulture, $"{field} is {value}; it should be {right}.")));
        }
    }
}
