using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>How the numbers of single facets and arcs came to be, built on request.</summary>
public static class FacetDerivations
{
    /// <summary>Name and version of the vector method.</summary>
    public const string Method = "optics.facets-from-marks/1";

    /// <summary>Included angle, both bevels as read, and pitch of a pair of facets, each from the two marks that threw them.</summary>
    public static IReadOnlyList<Derivation> Explain(FacetPair pair, Point2 leftMm, Point2 rightMm, TargetPlane target)
    {
        DerivationInput[] Inputs(Func<FacetPair, Angle> result) =>
        [
            Input("xL", "left mark, across", leftMm.X, h => result(At(h, 0, 0, 0))), Input("yL", "left mark, down", leftMm.Y, h => result(At(0, h, 0, 0))),
            Input("xR", "right mark, across", rightMm.X, h => result(At(0, 0, h, 0))), Input("yR", "right mark, down", rightMm.Y, h => result(At(0, 0, 0, h))),
            new("L", "distance", target.Distance.Millimetres, "mm"),
        ];
        FacetPair At(double xl, double yl, double xr, double yr) =>
            FacetPair.FromMarks(new(leftMm.X + xl, leftMm.Y + yl), new(rightMm.X + xr, rightMm.Y + yr), target, zeroRowKnown: true);
        Derivation Of(string name, string formula, Func<FacetPair, Angle> result) =>
            new(name, result(pair).Degrees, "deg", formula, "[hewitt] ch. 28; [siggraph]; derived in docs/conventions.md", Inputs(result), Method);
        return
        [
            Of("included angle", "180° − ∠(n_L, n_R), n = (r − d)/|r − d|", p => p.Included),
            Of("left bevel as read", "angle of n_L to the normal of the plane of edge and beam, e ∝ n_L × n_R", p => p.LeftAsRead),
            Of("right bevel as read", "angle of n_R to the normal of the plane of edge and beam, e ∝ n_L × n_R", p => p.RightAsRead),
            Of("pitch of the edge", "asin e_z, e ∝ n_L × n_R", p => p.Pitch),
        ];
    }

    /// <summary>Bevel and skew of an arc of scattered light.</summary>
    public static IReadOnlyList<Derivation> Explain(ScratchConeReading reading) =>
    [
        new("bevel as read from an arc", reading.AsRead.Value.Degrees, "deg", "n ∝ s × e, s = argmin Σ (ν·s)²/σ², ν = (r − d)/|r − d|", "derived in docs/reading.md",
            [
                new("x", "specular point, across", reading.AtMm.X, "mm"), new("y", "specular point, down", reading.AtMm.Y, "mm"),
                new("κ", "skew of the scratches", reading.Skew.Value.Degrees, "deg"), new("χ²", "weighted misfit", reading.ChiSquare, "1"),
                new("ν", "degrees of freedom", reading.DegreesOfFreedom, "1"),
            ],
            ScratchConeFit.Method),
        new("skew of the scratches", reading.Skew.Value.Degrees, "deg", "κ = asin(s·e)", "derived in docs/reading.md",
            [new("s·e", "scratch direction along the edge", Math.Sin(reading.Skew.Value.Radians), "1")], ScratchConeFit.Method),
    ];

    private static DerivationInput Input(string symbol, string name, double value, Func<double, Angle> moved)
    {
        const double h = 1e-4;
        return new(symbol, name, value, "mm", (moved(h) - moved(-h)).Degrees / (2 * h));
    }
}
