namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the light of a whole edge and, with it, where the steel begins in each section: tones of open paper, bevel and flank are solved in each
/// section and channel, the edge's places by dynamic programming (neighbours lie near each other), the light by a pattern search. Where the spine's side is known too, both are
/// seen under one light: what shades the one leaves the other in the sun, and sky and lamps are all the light there is.
/// </summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>How far outside and inside the line the edge is looked for.</summary>
    private const double OutermostMm = -0.8;
    private const double InnermostMm = 2.6;

    /// <summary>Misfit that no model of ours gets below, as a share of the paper's light. Chosen.</summary>
    private const double Floor = 0.012;

    /// <summary>Neighbouring sections, 2 mm apart, differ by this. Chosen.</summary>
    private const double NeighbourMm = 0.04;

    /// <summary>Light that the camera no longer tells apart, and what it still counts. Chosen.</summary>
    private const double Full = 0.95;
    private const double OfFull = 0.05;

    /// <summary>What is known beforehand counts this much for each section: sections that miss the model miss it alike. Chosen from trials.</summary>
    private const double PriorPerSection = 0.4;

    /// <summary>From here inward a section counts less: far from the edge other things are seen than the model knows of. Chosen.</summary>
    private const double InsideMm = 1.5;

    private const double FarthestSigma2 = 6;

    /// <summary>
    /// What ruled lines tell counts so many times against what the light tells: explanations of the light are weighed by so much less than if each sample stood for itself, while
    /// each line's end does. Chosen from trials.
    /// </summary>
    private const double RuledCounts = 8;

    private static readonly double[] s_shiftsMm = [-0.6, -0.3, 0.3, 0.6, 1, 1.5];

    private readonly IReadOnlyList<EdgeProfile> _profiles;
    private readonly double _blurMm;
    private readonly double _looks;

    private readonly KnownHeight? _known;
    private readonly EdgeLight? _beside;

    /// <summary>Of the profiles along one edge.</summary>
    /// <param name="profiles">Light across the edge.</param>
    /// <param name="blurMm">The camera's blur on the mat.</param>
    /// <param name="pixelMm">A pixel on the mat.</param>
    /// <param name="known">Height of the middle of the edge over the mat, where it is known.</param>
    /// <param name="beside">Of a bare side, which has no bevel: what the light found along the edge of the same blade tells of it.</param>
    public EdgeLightFit(IReadOnlyList<EdgeProfile> profiles, double blurMm, double pixelMm, KnownHeight? known = null, EdgeLight? beside = null)
    {
        _profiles = profiles;
        _known = known;
        _beside = beside;
        _blurMm = Math.Max(blurMm, 0.4 * pixelMm);
        _looks = 3.0 / Math.Max(pixelMm, 1.5 * _blurMm);
    }

    /// <summary>The spine's side of the same blade, under the same light; null where the edge's side is looked at alone.</summary>
    public SpineSide? Spine { get; init; }

    private EdgeLight Usual => _beside ?? (_known is { } known ? EdgeLight.Usual.At(known) : EdgeLight.Usual);

    /// <summary>Places of the steel, inward from the line, with what the light there costs, ruled lines aside, for not every section has one, and how sharply it is told.</summary>
    public sealed record Places(double[] InwardMm, double[] Cost, double[] Curvature, double Total);

    /// <summary>Where the edge may lie.</summary>
    /// <param name="InwardMm">Inward from the line of stations, section by section.</param>
    /// <param name="Lean">How far the line of stations, taken for the rim of a lamp's shadow, lies outside per millimetre of height; 0 where it is not.</param>
    public readonly record struct SupposedLine(double[] InwardMm, double Lean = 0);

    /// <summary>
    /// How far the whole edge may lie from where it was found, as the shadows tell it, mm: it is shifted inward and outward in the measure of its height, the light
    /// fitted anew to each shift, and the shifts weighed by how well they explain a section.
    /// </summary>
    public double DoubtMm(EdgeLight light, double[] inwardMm)
    {
        var grid = new Grid(_profiles, 1, false, this);
        double middle = Math.Max(0.2, light.HeightAt(0.5));
        var spine = SpineGrid.Of(this, SpineEvery);
        (int From, int To)[]? near = spine?.Near(light);
        double[] Moved(double shift) => [.. inwardMm.Select((v, i) => v + (shift * light.HeightAt(_profiles[i].Share) / middle))];
        double At(double shift)
        {
            double[] moved = Moved(shift);
            double Cost(EdgeLight? l) => l is null ? double.PositiveInfinity : grid.At(l, moved) + (spine?.Cost(l, near) ?? 0) + Beforehand(l, grid.Count + (spine?.Count ?? 0));
            return Search(light, Cost(light), Cost, 4).Cost / inwardMm.Length;
        }

        double here = At(0);
        double ruled = grid.RuledAt(inwardMm);
        double weights = 1;
        double sum = 0;
        foreach (double shift in s_shiftsMm)
        {
            double weight = Math.Exp(-0.25 * Math.Max(0, At(shift) - here)); // sections miss the model alike: half as sure as they were one by one
            weight *= Math.Exp(-0.25 * Math.Max(0, grid.RuledAt(Moved(shift)) - ruled)); // each ruled line by itself, half as sure too
            weights += weight;
            sum += weight * shift * shift;
        }

        return Math.Sqrt(sum / weights);
    }

    private double Beforehand(EdgeLight light, int sections) => PriorPerSection * sections * light.Prior(_known, _beside, Spine is not null);
}
