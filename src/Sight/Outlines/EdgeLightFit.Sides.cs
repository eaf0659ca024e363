namespace Whetwright.Sight.Outlines;

/// <summary>What a light costs on the edge's side, and on the spine's.</summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>Sections across the spine, channels summed, every other sample.</summary>
    private sealed class SpineGrid(Grid grid, SpineSide side)
    {
        public int Count => grid.Count;

        /// <summary>Null where the spine's side is not known.</summary>
        /// <param name="fit">The fit along the edge.</param>
        /// <param name="every">Which of the sections.</param>
        public static SpineGrid? Of(EdgeLightFit fit, int every) =>
            fit.Spine is { } side ? new(new([.. side.Sections.Where((_, i) => i % every == 0)], 2, true, fit, bare: true), side) : null;

        public (int From, int To)[] Near(EdgeLight light) => grid.Near(grid.Solve(side.Under(light)).InwardMm);

        public double PaperMisfit(EdgeLight light)
        {
            EdgeLight here = side.Under(light);
            return grid.PaperAt(here, grid.Solve(here).InwardMm);
        }

        public double Cost(EdgeLight light, (int From, int To)[]? near = null) => grid.Solve(side.Under(light), near).Total;
    }

    /// <summary>Some of the sections of both sides.</summary>
    private sealed class Sides(EdgeLightFit fit, int everyEdge, int everySpine)
    {
        private readonly SpineGrid? _spine = SpineGrid.Of(fit, everySpine);

        public Grid Edge { get; } = new([.. fit._profiles.Where((_, i) => i % everyEdge == 0)], 2, true, fit);

        /// <summary>−2 log likelihood of a light with the likeliest lines under it, and of the light itself.</summary>
        public double Cost(EdgeLight? light) => Cost(light, null, null);

        /// <summary>How badly a light explains the paper beside edge and spine, steel left out: the sum of both sides' natural logarithms of what it leaves.</summary>
        public double PaperMisfit(EdgeLight light) => Edge.PaperAt(light, Edge.Solve(light).InwardMm) + (_spine?.PaperMisfit(light) ?? 0);

        /// <summary>What a light costs, for lights like one, whose lines are looked for near its own.</summary>
        public Func<EdgeLight?, double> Near(EdgeLight from)
        {
            (int From, int To)[] edge = Edge.Near(Edge.Solve(from).InwardMm);
            (int From, int To)[]? spine = _spine?.Near(from);
            return light => Cost(light, edge, spine);
        }

        private double Cost(EdgeLight? light, (int From, int To)[]? edge, (int From, int To)[]? spine) => light is null ? double.PositiveInfinity
            : Edge.Solve(light, edge).Total + (_spine?.Cost(light, spine) ?? 0) + fit.Beforehand(light, Edge.Count + (_spine?.Count ?? 0));
    }
}
