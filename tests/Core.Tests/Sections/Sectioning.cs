using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Overlay;
using NetTopologySuite.Operation.OverlayNG;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Tests.Sections;

/// <summary>Asks for a section and builds the same from scratch with a polygon library, knowing none of our formulas.</summary>
internal static class Sectioning
{
    public const double Top = 40;

    public static SectionInput Knife(double old = 15, double made = 15, double behind = 0.3, double flank = 2) =>
        new(behind, flank, new SidePair(old, old), new SidePair(made, made), 180);

    public static SectionResult Compute(SectionInput input) =>
        Assert.IsType<SectionOutcome.Computed>(SectionChange.Evaluate(input)).Result;

    public static Reason Refusal(SectionInput input) =>
        Assert.Single(Assert.IsType<SectionOutcome.Refused>(SectionChange.Evaluate(input)).Reasons);

    public static Polygon AsPolygon(IEnumerable<Point2> points)
    {
        List<Coordinate> ring = [.. points.Select(p => new Coordinate(p.X, p.Y))];
        ring.Add(ring[0].Copy());
        return new GeometryFactory().CreatePolygon([.. ring]);
    }

    /// <summary>Area that flat facets through (0, r) take off each side, by clipping the old polygon with two half planes.</summary>
    public static (double Left, double Right) RemovedByClipping(SectionInput input, double recession)
    {
        double left = Tan(input.Old.LeftDeg), right = Tan(input.Old.RightDeg);
        double shoulder = input.BehindEdgeMm / (left + right), land = input.LandMm / (left + right);
        double flankLeft = Tan(input.Back switch { Side.Left => 0, Side.Right => 2 * input.PrimaryHalfDeg, _ => input.PrimaryHalfDeg });
        double flankRight = Tan(input.Back switch { Side.Right => 0, Side.Left => 2 * input.PrimaryHalfDeg, _ => input.PrimaryHalfDeg });
        Polygon before = AsPolygon([
            new(-((shoulder * left) + ((Top - shoulder) * flankLeft)), Top), new(-shoulder * left, shoulder), new(-land * left, land),
            new(land * right, land), new(shoulder * right, shoulder), new((shoulder * right) + ((Top - shoulder) * flankRight), Top)]);
        double far = Top - recession;
        Polygon kept = AsPolygon([new(0, recession), new(far * Tan(input.New.RightDeg), Top), new(-far * Tan(input.New.LeftDeg), Top)]);
        // The robust overlay: a land of 1e-22 mm is too fine for the plain one.
        Geometry removed = OverlayNGRobust.Overlay(before, kept, SpatialFunction.Difference);
        double Half(int sign) => OverlayNGRobust.Overlay(removed, AsPolygon([new(0, -1), new(sign * 100, -1), new(sign * 100, 100), new(0, 100)]), SpatialFunction.Intersection).Area;
        return (Half(-1), Half(1));
    }

    private static double Tan(double degrees) => Math.Tan(double.DegreesToRadians(degrees));
}
