using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>How an outline's uncertainty came to be: parts that are independent, added in quadrature (JCGM 100:2008, 5.1.2).</summary>
internal static class Quadrature
{
    /// <summary>The explanation of a total; each part counts with its share of it, ∂u/∂uᵢ = uᵢ/u.</summary>
    public static Derivation Explain(string name, double totalMm, string formula, params (string Symbol, string Name, double Mm, bool IsDefault)[] parts) => new(
        name,
        totalMm,
        "mm",
        formula,
        "derived in docs/conventions.md",
        [.. parts.Select(p => new DerivationInput(p.Symbol, p.Name, p.Mm, "mm", p.Mm / Math.Max(1e-9, totalMm), IsDefault: p.IsDefault))],
        "sight.outline/1");
}
