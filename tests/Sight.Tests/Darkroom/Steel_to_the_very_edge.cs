using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Marks;
using Whetwright.Darkroom.Mats;

namespace Whetwright.Sight.Tests.Darkroom;

/// <summary>What the truth calls edge and tip is in the picture: points and thin steel are not worn off by the way they are drawn.</summary>
public sealed class Steel_to_the_very_edge
{
    /// <summary>Straight down and from the side: sideways for each millimetre upward.</summary>
    private static readonly Vector2[] s_leans = [new(0, 0), new(0.25, -0.15), new(-0.1, 0.3)];

    private static readonly Lazy<(MatScene Scene, MatBody Body)[]> s_blades = new(() => [.. Enumerable.Range(1, 12).Select(seed => MatScene.Generate(Difficulty.Normal, seed)).Select(s => (s, new MatBody(s)))]);

    [Fact]
    public void A_ray_a_tenth_of_a_millimetre_inside_the_tip_meets_steel_and_one_beyond_it_does_not()
    {
        foreach ((MatScene scene, MatBody body) in s_blades.Value)
        {
            Point2 tip = scene.Shape.NominalEdge[^1];
            Vector2 inward = ((scene.Shape.Edge[^2] - tip).Normalized() + (scene.Shape.Back[0] - tip).Normalized()).Normalized();
            foreach (Vector2 lean in s_leans)
            {
                Assert.True(Meets(body, tip + (inward * 0.1), lean), $"blade {scene.Seed}, a {scene.Shape.Family}, {lean}: no steel inside its tip");
                Assert.False(Meets(body, tip + (inward * -0.05), lean), $"blade {scene.Seed}, a {scene.Shape.Family}, {lean}: steel beyond its tip");
            }
        }
    }

    [Fact]
    public void A_ray_two_hundredths_of_a_millimetre_behind_the_edge_meets_steel()
    {
        foreach ((MatScene scene, MatBody body) in s_blades.Value)
        {
            IReadOnlyList<Point2> edge = scene.Shape.NominalEdge;
            for (int i = edge.Count / 8; i < 7 * edge.Count / 8; i += 7)
            {
                Vector2 along = (edge[i + 1] - edge[i - 1]).Normalized();
                Point2 behind = edge[i] + (new Vector2(-along.Y, along.X) * 0.02);
                if (body.Depth(behind) > 0)
                    Assert.All(s_leans, lean => Assert.True(Meets(body, behind, lean), $"blade {scene.Seed}, {edge[i].X:0.0} mm from the heel, {lean}"));
            }
        }
    }

    // A ray through a place of the blade's middle plane.
    private static bool Meets(MatBody body, Point2 blade, Vector2 lean)
    {
        Point2 above = body.Frame.ToMat(blade);
        return body.Hit(above + (lean * -body.MidAt(blade.X)), lean) is not null;
    }
}
