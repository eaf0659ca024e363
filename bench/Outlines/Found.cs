using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>A blade as found up to its edge's line, ends left open; kept in a file so that trials of the ends alone cost little.</summary>
internal sealed record Found(Point2[] InOrder, int HeelAt, int TipAt, Point2[] Line, double[] Light, double DoubtMm, double PixelMm, bool HasHandle, bool Cornered)
{
    private const double CornerDropMm = 2.5;

    public static Found? Of(Picture photo, FoundSheet sheet, MatSheet mat, PhotoSampler sampler, MatCamera camera, double blur, KnownHeight known, List<Point2> seen, string? keep)
    {
        if (keep is not null && File.Exists(keep))
            return JsonSerializer.Deserialize<Kept>(File.ReadAllText(keep))?.ToFound();
        Found? found = Look(photo, sheet, mat, sampler, camera, blur, known, seen);
        if (keep is not null)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(keep)!);
            File.WriteAllText(keep, JsonSerializer.Serialize(found is null ? null : Kept.Of(found)));
        }

        return found;
    }

    private static Found? Look(Picture photo, FoundSheet sheet, MatSheet mat, PhotoSampler sampler, MatCamera camera, double blur, KnownHeight known, List<Point2> seen)
    {
        IReadOnlyList<SheetFiducial> fiducials = OutlineView.Printed(mat);
        using MatField field = MatField.From(photo, sheet.Map, new(mat.SizeMm.X, mat.SizeMm.Y), sheet.Fiducials, fiducials);
        if (ThingOnMat.Find(field, fiducials) is not [var thing, ..])
            return null;
        RefinedOutline outline = new OutlineRefiner(sampler, sheet.Map, blur).Refine(thing.Outline);
        sampler = sampler.With(RuledInk.Around(sampler, sheet.Map, outline.Points));
        Point2[] coarse = Contour.Smooth(Contour.Resample(outline.Points, EdgeSide.OutlineStepMm), 1.0);
        BladeLie lie = BladeLie.Of(coarse);
        if (OutlineView.SideOf(outline, coarse, lie, high: false) is not { } low || OutlineView.SideOf(outline, coarse, lie, high: true) is not { } high)
            return null;
        Point2 middle = seen[seen.Count / 2];
        (SmoothEdge edge, EdgeSide side) = high.Edge.Points().Min(p => p.DistanceTo(middle)) < low.Edge.Points().Min(p => p.DistanceTo(middle)) ? high : low;
        Point2[] inOrder = OutlineView.InOrder(outline.Points, coarse[side.From], coarse[side.To], side.Forward, out int heelAt, out int tipAt);
        Point2[] path = Contour.Open([.. edge.Points()], 0.5 * outline.PixelMm);
        var sections = new EdgeSections(sampler, sheet.Map, blur, camera, known);
        Point2[] line = sections.Line(path, OutlineView.Inward(path, edge.Outward), outline.PixelMm).Line;
        return new(inOrder, heelAt, tipAt, line, sections.Light?.ToRow() ?? [], sections.DoubtMm, outline.PixelMm, lie.HasHandle, !lie.HasHandle || side.DropMm > CornerDropMm);
    }

    private sealed record Kept(double[] InOrder, int HeelAt, int TipAt, double[] Line, double[] Light, double DoubtMm, double PixelMm, bool HasHandle, bool Cornered)
    {
        public static Kept Of(Found f) => new(Row(f.InOrder), f.HeelAt, f.TipAt, Row(f.Line), f.Light, f.DoubtMm, f.PixelMm, f.HasHandle, f.Cornered);

        public Found ToFound() => new(Points(InOrder), HeelAt, TipAt, Points(Line), Light, DoubtMm, PixelMm, HasHandle, Cornered);

        private static double[] Row(Point2[] p) => [.. p.SelectMany(v => new[] { Math.Round(v.X, 5), Math.Round(v.Y, 5) })];

        private static Point2[] Points(double[] row) => [.. Enumerable.Range(0, row.Length / 2).Select(i => new Point2(row[2 * i], row[(2 * i) + 1]))];
    }
}
