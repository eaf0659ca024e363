using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>All laser light on the sheet of one mount: facet by facet, the bare beam, ghosts.</summary>
public sealed class SceneLight
{
    private const int Samples = 160_000;

    public SceneLight(MarkScene scene)
    {
        Scene = scene;
        MountPose pose = scene.Pose;
        Section = new(scene.Right, scene.Left, pose.ApexRadiusUm * 1e-3, pose.LandUm * 1e-3, pose.BladeHeightMm);
        Tracer = new(scene, pose);
        var facets = new FacetLight[Section.Facets.Count];
        Parallel.For(0, facets.Length, i =>
        {
            Facet facet = Section.Facets[i];
            facets[i] = Tracer.Trace(facet, facet.Name == "apex" ? Samples / 4 : Samples, new Dice(scene.Seed, $"light-{facet.Side}-{facet.Name}"));
        });
        Facets = facets;
        Bare = Tracer.TraceBare(Section, out double bare);
        BareFraction = bare;
        Total = new(scene.Target.SizeMm.X, scene.Target.SizeMm.Y);
        foreach (FacetLight facet in Facets)
            Total.Add(facet.Map);
        Total.Add(Bare);
        foreach (Distractor.Ghost ghost in scene.Distractors.OfType<Distractor.Ghost>())
        {
            LightMap copy = new(scene.Target.SizeMm.X, scene.Target.SizeMm.Y);
            copy.Add(Total);
            Total.Add(copy, ghost.Strength, ghost.ShiftMm.X, ghost.ShiftMm.Y);
        }
    }

    public MarkScene Scene { get; }

    public EdgeSection Section { get; }

    public LightTracer Tracer { get; }

    public IReadOnlyList<FacetLight> Facets { get; }

    public LightMap Bare { get; }

    public double BareFraction { get; }

    public LightMap Total { get; }

    /// <summary>W/m² from share of the beam per mm².</summary>
    public double WattPerM2(double sharePerMm2) => sharePerMm2 * Scene.Beam.PowerMw * 1000;

    /// <summary>The light of one facet.</summary>
    public FacetLight Of(Side side, string name) => Facets.First(f => f.Facet.Side == side && f.Facet.Name == name);
}
