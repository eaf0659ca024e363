using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Which unknown stands where: θ of each grind seen, the holder's roll ρ, one re-clamping cᵢ per mount, one unit unknown per common source.
/// A mark reads θ(blade side, role) + s·(ρ + cᵢ) + Σ degPerU·z, with s = +1 on the target's right, −1 on its left.
/// </summary>
internal sealed class ReadingLayout
{
    public const string RollName = "holder roll";
    public const string ClampSource = "re-clamping";
    private readonly Dictionary<string, int> _index = new(StringComparer.Ordinal);
    private readonly List<Unknown> _unknowns = [];
    private readonly bool _primariesShareAMidPlane;

    public ReadingLayout(IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, MeasuredAngle? roll, Angle scatter)
    {
        _primariesShareAMidPlane = !known.HasBack;
        foreach (Side blade in (Side[])[Side.Left, Side.Right])
        {
            foreach (MarkRole role in (MarkRole[])[MarkRole.Edge, MarkRole.Micro])
                AddGrind(observations, known, blade, role);
            if (known.HasBack)
                AddGrind(observations, known, blade, MarkRole.Primary);
        }

        if (!known.HasBack && observations.Any(o => o.Role == MarkRole.Primary))
        {
            PriorAngle? prior = known.Priors.FirstOrDefault(p => p.Role == MarkRole.Primary);
            Add(prior is null
                ? new("primary", 0, double.PositiveInfinity, "primary")
                : new("primary", prior.Angle.Value.Degrees, prior.Angle.StandardUncertainty.Degrees, "known before"));
            Add(new("primary half difference", 0, known.Assumptions.PrimaryHalfDifference.Degrees, "primaries taken as equal"));
        }

        Add(roll is { } r
            ? new(RollName, r.Value.Degrees, r.StandardUncertainty.Degrees, RollName)
            : new(RollName, 0, double.PositiveInfinity, RollName));
        foreach (int mount in observations.Select(o => o.Mount).Distinct().Order())
            Add(new(Clamp(mount), 0, Math.Max(scatter.Degrees, 1e-6), ClampSource));
        foreach (string source in observations.SelectMany(o => o.Common).Select(c => c.Source).Distinct(StringComparer.Ordinal))
            Add(new(Common(source), 0, 1, source));
    }

    public IReadOnlyList<Unknown> Unknowns => _unknowns;

    public static string Clamp(int mount) => FormattableString.Invariant($"re-clamping of mount {mount + 1}");

    public static string Common(string source) => "common: " + source;

    public bool Has(Side blade, MarkRole role) =>
        _index.ContainsKey(role == MarkRole.Primary && _primariesShareAMidPlane ? "primary" : Name(blade, role));

    /// <summary>Coefficients of one unknown alone.</summary>
    public double[] Unit(string name)
    {
        double[] weights = new double[_unknowns.Count];
        weights[_index[name]] = 1;
        return weights;
    }

    /// <summary>Coefficients that make a grind's angle.</summary>
    public double[] Grind(Side blade, MarkRole role)
    {
        double[] weights = new double[_unknowns.Count];
        AddGrind(weights, blade, role);
        return weights;
    }

    public double[] Included(MarkRole role = MarkRole.Edge)
    {
        double[] weights = Grind(Side.Left, role);
        AddGrind(weights, Side.Right, role);
        return weights;
    }

    public double[] Row(ReadingObservation observation)
    {
        double[] row = Row(observation.Target, observation.Blade, observation.Role, observation.Common);
        row[_index[Clamp(observation.Mount)]] = Sign(observation.Target);
        return row;
    }

    /// <summary>A mark's coefficients apart from its mount's re-clamping.</summary>
    public double[] Row(Side target, Side blade, MarkRole role, IReadOnlyList<CommonPart> common)
    {
        double[] row = Grind(blade, role);
        row[_index[RollName]] = Sign(target);
        foreach (CommonPart part in common)
            row[_index[Common(part.Source)]] += part.DegPerU;
        return row;
    }

    public static int Sign(Side target) => target == Side.Right ? 1 : -1;

    private static string Name(Side blade, MarkRole role) => (blade, role) switch
    {
        (Side.Left, MarkRole.Edge) => "blade left edge",
        (Side.Right, MarkRole.Edge) => "blade right edge",
        (Side.Left, MarkRole.Micro) => "blade left micro",
        (Side.Right, MarkRole.Micro) => "blade right micro",
        (Side.Left, _) => "blade left primary",
        _ => "blade right primary",
    };

    private void AddGrind(double[] weights, Side blade, MarkRole role)
    {
        if (role == MarkRole.Primary && _primariesShareAMidPlane)
        {
            weights[_index["primary"]] += 1;
            weights[_index["primary half difference"]] += blade == Side.Left ? 1 : -1;
            return;
        }

        weights[_index[Name(blade, role)]] += 1;
    }

    private void AddGrind(IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, Side blade, MarkRole role)
    {
        if (!observations.Any(o => o.Blade == blade && o.Role == role))
            return;
        PriorAngle? prior = known.Priors.FirstOrDefault(p => p.Blade == blade && p.Role == role);
        Add(prior is null
            ? new(Name(blade, role), 0, double.PositiveInfinity, Name(blade, role))
            : new(Name(blade, role), prior.Angle.Value.Degrees, prior.Angle.StandardUncertainty.Degrees, "known before"));
    }

    private void Add(Unknown unknown)
    {
        _index[unknown.Name] = _unknowns.Count;
        _unknowns.Add(unknown);
    }
}
