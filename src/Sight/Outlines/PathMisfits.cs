namespace Whetwright.Sight.Outlines;

/// <summary>How badly a light explains the sections along a path, −2 log likelihood each.</summary>
/// <param name="lengthMm">The path's, from heel to tip.</param>
/// <param name="sections">How far each lies from the heel, mm, and how badly it is explained.</param>
internal sealed class PathMisfits(double lengthMm, IEnumerable<(double AtMm, double Misfit)> sections)
{
    private readonly (double FromTipMm, double Misfit)[] _sections = [.. sections.Select(s => (lengthMm - s.AtMm, s.Misfit))];

    public double Mean => Within(double.PositiveInfinity);

    /// <summary>The mean of what another path has too that ends at the same tip: where one goes on past the other's heel, what lies there would speak against it.</summary>
    public double AlongWith(PathMisfits other) => Within(other.LengthMm);

    private double LengthMm { get; } = lengthMm;

    private double Within(double fromTipMm) => _sections.Where(s => s.FromTipMm <= fromTipMm).Select(s => s.Misfit).DefaultIfEmpty(0).Average();
}
