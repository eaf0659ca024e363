using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>A point of an arc on the target.</summary>
/// <param name="AtMm">Place, millimetres from the target's zero.</param>
/// <param name="UncertaintyMm">Standard uncertainty of its place in any direction; its weight is 1/u².</param>
public readonly record struct ArcPoint(Point2 AtMm, double UncertaintyMm);

/// <summary>What is known of the edge's direction while a cone is fitted.</summary>
/// <param name="Pitch">Pitch of the edge, with uncertainty: zero where the edge stands square to the beam.</param>
/// <param name="LeanUncertainty">Standard uncertainty of the edge's lean, its turn about the beam away from upright.</param>
public readonly record struct EdgeStance(MeasuredAngle Pitch, Angle LeanUncertainty)
{
    /// <summary>An edge taken as upright and square to the beam, exactly.</summary>
    public static EdgeStance Upright => default;
}

/// <summary>
/// The specular point of an arc, with free skew. Every ray of the arc gives a tiny normal ν = (r − d)/|r − d|, and all of them stand square to
/// the scratches: s is the direction least along them, min Σ (ν·s)²/σ². The facet holds the edge e and the scratch s, so its normal is
/// n ∝ s × e; the mark of n is the reading. No vertex where the scratches run along the edge (s ∥ e): then the arc is a straight streak and
/// tells nothing of where the facet is. Derived in docs/conventions.md; least squares as [tarantola] ch. 3.
/// </summary>
public static class ScratchConeFit
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "optics.scratch-cone/1";

    /// <summary>Scratches within so many degrees of the edge leave no usable vertex (chosen, not derived).</summary>
    private const double LeastDegFromEdge = 10;

    /// <summary>Fits a cone to the points of one arc.</summary>
    /// <param name="points">Three points or more.</param>
    /// <param name="target">Where the sheet stands.</param>
    /// <param name="stance">What is known of the edge's direction.</param>
    /// <param name="skewPrior">What is known of the skew before; null: free.</param>
    /// <returns>The fit, or the reason why there is no vertex.</returns>
    /// <exception cref="ArgumentException">Fewer than three points, or uncertainties not above zero.</exception>
    public static ConeFitResult Fit(
        IReadOnlyList<ArcPoint> points, TargetPlane target, EdgeStance stance = default, MeasuredAngle? skewPrior = null)
    {
        if (points.Count < 3)
            throw new ArgumentException($"Must have at least three points of the arc, has {points.Count}.", nameof(points));
        points = [.. points.Where(p => p.AtMm.DistanceTo(target.BeamAt) > 2 * Require.Positive(p.UncertaintyMm, "UncertaintyMm"))];
        if (points.Count < 3)
            return new(null, new("arc-too-short", "Fewer than three points of the arc lie clear of the bare beam's own spot, which tells no direction. Expose longer so that more of the arc shows."));
        UnitVector3 edge = SpecularReflection.EdgeDirection(stance.Pitch.Value);
        Vector3[] normals = [.. points.Select(p => SpecularReflection.NormalFrom(p.AtMm, target).AsVector())];
        UnitVector3 s = Start(points, normals);
        double[,] covariance = new double[2, 2];
        for (int iteration = 0; iteration < 25; iteration++)
            (s, covariance) = Step(points, normals, target, s, edge, skewPrior);
        double fromEdge = double.RadiansToDegrees(Math.Acos(Math.Min(1, Math.Abs(s.Dot(edge)))));
        double loose = double.RadiansToDegrees(Math.Sqrt(Math.Max(covariance[0, 0], covariance[1, 1])));
        if (fromEdge < LeastDegFromEdge)
        {
            return new(null, new("streak-without-vertex", FormattableString.Invariant(
                $"The scratches run along the edge (within {fromEdge:0}° of it): the mark is a straight streak without a vertex, so the place of the bevel on it is not known. Draw a few strokes square to the edge on that facet with a fine stone, or read it by another gauge.")));
        }

        if (!double.IsFinite(loose) || loose > 20)
        {
            return new(null, new("arc-too-short", FormattableString.Invariant(
                $"The arc is too short for its scatter: the scratch direction is uncertain by {loose:0}°. Darken the room, expose longer so that more of the arc shows, or read the mark's middle by eye.")));
        }

        return new(Made(points, normals, target, s, covariance, stance, edge), null);
    }

    private static UnitVector3 Start(IReadOnlyList<ArcPoint> points, Vector3[] normals)
    {
        double[,] moment = new double[3, 3];
        for (int i = 0; i < normals.Length; i++)
        {
            double[] n = [normals[i].X, normals[i].Y, normals[i].Z];
            double weight = 1 / (points[i].UncertaintyMm * points[i].UncertaintyMm);
            for (int a = 0; a < 3; a++)
            {
                for (int b = 0; b < 3; b++)
                    moment[a, b] += weight * n[a] * n[b];
            }
        }

        (_, double[,] vectors) = SymmetricMatrix.Eigen(moment);
        return UnitVector3.From(vectors[0, 0], vectors[1, 0], vectors[2, 0]);
    }

    /// <summary>One Gauss-Newton step of s over its two free directions, with residuals ν·s weighted by what the point's place leaves open.</summary>
    private static (UnitVector3 S, double[,] Covariance) Step(
        IReadOnlyList<ArcPoint> points, Vector3[] normals, TargetPlane target, UnitVector3 s, UnitVector3 edge, MeasuredAngle? prior)
    {
        (Vector3 a, Vector3 b) = Square(s);
        double[,] information = new double[2, 2];
        double[] right = new double[2];
        void Add(double ja, double jb, double residual, double variance)
        {
            information[0, 0] += ja * ja / variance;
            information[0, 1] += ja * jb / variance;
            information[1, 0] += ja * jb / variance;
            information[1, 1] += jb * jb / variance;
            right[0] -= ja * residual / variance;
            right[1] -= jb * residual / variance;
        }

        for (int i = 0; i < normals.Length; i++)
            Add(normals[i].Dot(a), normals[i].Dot(b), normals[i].Dot(s.AsVector()), ResidualVariance(points[i], s, target));
        if (prior is { } p)
        {
            double at = Skew(s, edge).Radians;
            const double h = 1e-6;
            double ja = (Skew(UnitVector3.From(s.AsVector() + (a * h)), edge).Radians - at) / h;
            double jb = (Skew(UnitVector3.From(s.AsVector() + (b * h)), edge).Radians - at) / h;
            Add(ja, jb, at - p.Value.Radians, p.StandardUncertainty.Radians * p.StandardUncertainty.Radians);
        }

        double determinant = (information[0, 0] * information[1, 1]) - (information[0, 1] * information[0, 1]);
        if (!(determinant > 1e-14 * information[0, 0] * information[1, 1]))
            return (s, new double[,] { { double.PositiveInfinity, 0 }, { 0, double.PositiveInfinity } });
        double[,] covariance =
        {
            { information[1, 1] / determinant, -information[0, 1] / determinant }, { -information[0, 1] / determinant, information[0, 0] / determinant },
        };
        double stepA = (covariance[0, 0] * right[0]) + (covariance[0, 1] * right[1]);
        double stepB = (covariance[1, 0] * right[0]) + (covariance[1, 1] * right[1]);
        double length = Math.Max(1, Math.Sqrt((stepA * stepA) + (stepB * stepB)) / 0.3);
        UnitVector3 moved = UnitVector3.From(s.AsVector() + (a * (stepA / length)) + (b * (stepB / length)));
        return (moved, Carried(covariance, (a, b), Square(moved)));
    }

    /// <summary>The covariance of s over one pair of free directions, said over another.</summary>
    private static double[,] Carried(double[,] covariance, (Vector3 A, Vector3 B) from, (Vector3 A, Vector3 B) to)
    {
        double[,] turn = { { to.A.Dot(from.A), to.A.Dot(from.B) }, { to.B.Dot(from.A), to.B.Dot(from.B) } };
        double[,] carried = new double[2, 2];
        for (int i = 0; i < 2; i++)
        {
            for (int j = 0; j < 2; j++)
            {
                for (int k = 0; k < 2; k++)
                {
                    for (int l = 0; l < 2; l++)
                        carried[i, j] += turn[i, k] * covariance[k, l] * turn[j, l];
                }
            }
        }

        return carried;
    }

    private static double ResidualVariance(ArcPoint point, UnitVector3 s, TargetPlane target)
    {
        const double h = 1e-4;
        double Along(double dx, double dy) =>
            SpecularReflection.NormalFrom(new(point.AtMm.X + dx, point.AtMm.Y + dy), target).Dot(s);
        double gx = (Along(h, 0) - Along(-h, 0)) / (2 * h);
        double gy = (Along(0, h) - Along(0, -h)) / (2 * h);
        double u = point.UncertaintyMm;
        return Math.Max(((gx * gx) + (gy * gy)) * u * u, 1e-24);
    }

    private static ScratchConeReading Made(
        IReadOnlyList<ArcPoint> points, Vector3[] normals, TargetPlane target, UnitVector3 s, double[,] covariance, EdgeStance stance, UnitVector3 edge)
    {
        Vector3 middle = normals.Aggregate((sum, n) => sum + n);
        UnitVector3 Normal(UnitVector3 scratch, UnitVector3 e)
        {
            Vector3 n = scratch.AsVector().Cross(e.AsVector());
            return UnitVector3.From(n.Dot(middle) >= 0 ? n : -n);
        }

        (Vector3 a, Vector3 b) = Square(s);
        const double h = 1e-6;
        UnitVector3 Leaning(double pitch, double lean)
        {
            UnitVector3 e = SpecularReflection.EdgeDirection(stance.Pitch.Value + Angle.FromRadians(pitch));
            return UnitVector3.From((Math.Cos(lean) * e.X) - (Math.Sin(lean) * e.Y), (Math.Sin(lean) * e.X) + (Math.Cos(lean) * e.Y), e.Z);
        }

        double[] At(double da, double db, double pitch, double lean)
        {
            UnitVector3 moved = UnitVector3.From(s.AsVector() + (a * da) + (b * db));
            UnitVector3 e = Leaning(pitch, lean);
            UnitVector3 n = Normal(moved, e);
            Point2 mark = SpecularReflection.MarkOf(n, target) ?? new(double.NaN, double.NaN);
            return [mark.X, mark.Y, AsRead(n, e).Radians, Skew(moved, e).Radians];
        }

        double[] best = At(0, 0, 0, 0);
        double[][] slopes =
        [
            Slope(At(h, 0, 0, 0), At(-h, 0, 0, 0)), Slope(At(0, h, 0, 0), At(0, -h, 0, 0)),
            Slope(At(0, 0, h, 0), At(0, 0, -h, 0)), Slope(At(0, 0, 0, h), At(0, 0, 0, -h)),
        ];
        double chi = points.Select((p, i) => Math.Pow(normals[i].Dot(s.AsVector()), 2) / ResidualVariance(p, s, target)).Sum();
        int dof = points.Count - 2;
        double birge = Math.Max(1, chi / Math.Max(1, dof));
        double pitchU = stance.Pitch.StandardUncertainty.Radians;
        double leanU = stance.LeanUncertainty.Radians;
        double Covariance(int i, int j) =>
            (birge * ((slopes[0][i] * slopes[0][j] * covariance[0, 0]) + (slopes[1][i] * slopes[1][j] * covariance[1, 1])
                + (((slopes[0][i] * slopes[1][j]) + (slopes[1][i] * slopes[0][j])) * covariance[0, 1])))
            + (slopes[2][i] * slopes[2][j] * pitchU * pitchU) + (slopes[3][i] * slopes[3][j] * leanU * leanU);
        MeasuredAngle Measured(int i) => new(Angle.FromRadians(best[i]), Angle.FromRadians(Math.Sqrt(Math.Max(0, Covariance(i, i)))));
        return new(new(best[0], best[1]), Math.Sqrt(Covariance(0, 0)), Math.Sqrt(Covariance(1, 1)), Normal(s, edge), Measured(2), Measured(3), s, chi, dof);

        static double[] Slope(double[] above, double[] below) => [.. above.Zip(below, (p, m) => (p - m) / (2 * h))];
    }

    /// <summary>Signed bevel of a normal to the plane that holds edge and beam, outward on the side it throws to.</summary>
    private static Angle AsRead(UnitVector3 n, UnitVector3 e)
    {
        Vector3 m = e.AsVector().Cross(SpecularReflection.Beam.AsVector());
        double across = Math.Abs(n.AsVector().Dot(m) / m.Norm);
        return Angle.FromRadians(Math.Atan2(-n.AsVector().Dot(SpecularReflection.Beam.AsVector()) / m.Norm, across));
    }

    private static Angle Skew(UnitVector3 s, UnitVector3 e)
    {
        Vector3 along = s.Z >= 0 ? s.AsVector() : -s.AsVector();
        return Angle.FromRadians(Math.Asin(Math.Clamp(along.Dot(e.AsVector()), -1, 1)));
    }

    private static (Vector3 A, Vector3 B) Square(UnitVector3 s)
    {
        Vector3 v = s.AsVector();
        Vector3 other = Math.Abs(v.X) < 0.6 ? new(1, 0, 0) : new(0, 1, 0);
        Vector3 a = UnitVector3.From(v.Cross(other)).AsVector();
        return (a, v.Cross(a));
    }
}

/// <summary>A fit, or the reason why there is none. Exactly one of the two is there.</summary>
/// <param name="Reading">The fit.</param>
/// <param name="Refusal">Why there is no vertex.</param>
public sealed record ConeFitResult(ScratchConeReading? Reading, Reason? Refusal);

/// <summary>The specular point of an arc.</summary>
/// <param name="AtMm">Place on the target, millimetres from its zero.</param>
/// <param name="UncertaintyXMm">Standard uncertainty across.</param>
/// <param name="UncertaintyYMm">Standard uncertainty down.</param>
/// <param name="Normal">The facet's normal, beam frame.</param>
/// <param name="AsRead">The bevel as read, to the plane of edge and beam.</param>
/// <param name="Skew">Skew of the scratches, 0° square to the edge, positive toward the edge's downward direction.</param>
/// <param name="Scratch">Direction of the scratches, beam frame (either sign).</param>
/// <param name="ChiSquare">Weighted misfit; uncertainties are stretched by √(χ²/ν) where it exceeds ν.</param>
/// <param name="DegreesOfFreedom">Points less two.</param>
public sealed record ScratchConeReading(
    Point2 AtMm,
    double UncertaintyXMm,
    double UncertaintyYMm,
    UnitVector3 Normal,
    MeasuredAngle AsRead,
    MeasuredAngle Skew,
    UnitVector3 Scratch,
    double ChiSquare,
    int DegreesOfFreedom);
