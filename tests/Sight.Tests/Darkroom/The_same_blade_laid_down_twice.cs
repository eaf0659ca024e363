using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Marks;
using Whetwright.Darkroom.Mats;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Darkroom;

/// <summary>Photographs rendered by the Darkroom: one blade, put down twice in different places and turned differently.</summary>
public sealed class The_same_blade_laid_down_twice
{
    private const int WidthPx = 1600;

    private static readonly Dictionary<string, OutlineShape> s_others = Enumerable.Range(1, 20)
        .ToDictionary(i => $"other-{i}", i => True(MatScene.Generate(Difficulty.Normal, 8100 + i).Shape), StringComparer.Ordinal);

    private static readonly Lazy<OutlineShape> s_again = new(() => Traced(MatScene.Generate(Difficulty.Normal, 1001).Placed(1)));

    [Fact]
    public void Matches_itself_within_its_uncertainty_and_is_known_among_twenty_others()
    {
        OutlineShape first = Traced(MatScene.Generate(Difficulty.Normal, 1001));
        OutlineShape again = s_again.Value;

        OutlineOverlay overlay = OutlineOverlay.Of(first, again);
        Assert.InRange(overlay.MeanLostMm, -2 * overlay.UMm, 2 * overlay.UMm);
        Assert.InRange(again.LengthMm - first.LengthMm, -1.5, 1.5);

        Dictionary<string, OutlineShape> book = new(s_others, StringComparer.Ordinal) { ["ours"] = first };
        (IReadOnlyList<PieceMatch> matches, double stranger) = OutlineBook.Recognise(again, book);
        Assert.Equal("ours", matches[0].Id);
        Assert.True(matches[0].Probability > 0.8, $"{matches[0]}, a stranger {stranger:0.000}");
    }

    [Fact]
    public void Is_not_taken_for_any_of_twenty_others_when_the_book_does_not_hold_it()
    {
        (IReadOnlyList<PieceMatch> matches, double stranger) = OutlineBook.Recognise(s_again.Value, s_others);
        Assert.True(stranger > 0.5, $"{matches[0]}");
    }

    [Fact]
    public void Keeps_its_shape_and_changes_its_place()
    {
        MatScene scene = MatScene.Generate(Difficulty.Normal, 1001);
        MatScene moved = scene.Placed(1);
        Assert.Same(scene.Shape, moved.Shape);
        Assert.Equal(scene.Blade.SpineMm, moved.Blade.SpineMm);
        Assert.True(scene.Blade.HeelMm.DistanceTo(moved.Blade.HeelMm) > 3);
        Assert.Equal(moved.Blade.HeelMm, scene.Placed(1).Blade.HeelMm);
    }

    private static OutlineShape Traced(MatScene scene)
    {
        using Picture photo = Picture.Decode(new MatPhotographs(scene, WidthPx).Jpeg());
        double height = (scene.Blade.LiftAtHeelMm + scene.Blade.LiftAtTipMm) / 2;
        TracedOutline traced = OutlineTracer.Trace(photo, null, scene.Mat, Length.FromMillimetres(height));
        Assert.True(traced.Outcome == TraceOutcome.Traced, string.Join(' ', traced.Reasons.Select(r => r.Text)));
        return OutlineShape.Of(traced);
    }

    /// <summary>The shape as it was drawn, without photograph.</summary>
    private static OutlineShape True(BladeShape shape)
    {
        BladeFrame frame = new(shape.NominalEdge[0], shape.NominalEdge[^1], new Vector2(0, -1));
        return new([.. shape.NominalEdge.Select(frame.ToBlade)], [.. shape.NominalEdge.Concat(Contour.Open([shape.NominalEdge[^1], .. shape.Back], 0.5)).Select(frame.ToBlade)], 0.1);
    }
}
