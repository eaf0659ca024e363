namespace Whetwright.Core.Sections;

/// <summary>A stretch of heights over the virtual apex.</summary>
internal readonly record struct Stretch(double FromMm, double ToMm);

/// <summary>
/// One side of the section: the old half-thickness (facet, then flank) and the new facet that is laid over it. What is left is the
/// smaller of the two at every height; areas are integrated in closed form between the heights where they cross.
/// </summary>
internal sealed class SideProfile
{
    private const int Samples = 256;

    public SideProfile(FacetCurve oldFacet, double shoulderMm, double flankRad, double landHeightMm, FacetCurve newFacet, double recessionMm, double topMm)
    {
        Old = oldFacet;
        New = newFacet;
        ShoulderMm = shoulderMm;
        FlankRad = flankRad;
        LandHeightMm = landHeightMm;
        RecessionMm = recessionMm;
        TopMm = topMm;
        HalfAtShoulderMm = oldFacet.HalfMm(shoulderMm);
        Crossings = FindCrossings();
        Cuts = FindCuts();
    }

    public FacetCurve Old { get; }
    public FacetCurve New { get; }
    public double ShoulderMm { get; }
    public double HalfAtShoulderMm { get; }
    public double FlankRad { get; }
    public double LandHeightMm { get; }
    public double RecessionMm { get; }
    public double TopMm { get; }

    /// <summary>Where steel that is looked at starts: at the land, or at the new apex where that lies higher.</summary>
    public double StartMm => Math.Max(LandHeightMm, RecessionMm);

    /// <summary>Heights above the start where old and new cross.</summary>
    public IReadOnlyList<double> Crossings { get; }

    /// <summary>Heights between which the new facet takes steel off, upward from the start.</summary>
    public IReadOnlyList<Stretch> Cuts { get; }

    /// <summary>True where the cut that starts at the apex runs on past the top: the facet never meets the flank.</summary>
    public bool NeverEnds => Cuts.Count > 0 && Cuts[^1].ToMm >= TopMm;

    public double OldHalfMm(double y) =>
        y <= ShoulderMm ? Old.HalfMm(y) : HalfAtShoulderMm + ((y - ShoulderMm) * Math.Tan(FlankRad));

    public double NewHalfMm(double y) => New.HalfMm(y - RecessionMm);

    public double LeftHalfMm(double y) => Math.Min(OldHalfMm(y), NewHalfMm(y));

    /// <summary>Upper end of the new facet that starts at the apex; the start itself where it takes nothing off there.</summary>
    public double FacetEndMm => Cuts.Count > 0 && Cuts[0].FromMm <= StartMm ? Cuts[0].ToMm : StartMm;

    /// <summary>Straight distance from the lower to the upper end of the new facet: what a rule laid on it reads.</summary>
    public double FacetWidthMm
    {
        get
        {
            double end = FacetEndMm;
            if (IsOldFacetKept)
                end = ShoulderMm;
            double dy = end - StartMm, dx = NewHalfMm(end) - NewHalfMm(StartMm);
            return end > StartMm ? Math.Sqrt((dx * dx) + (dy * dy)) : 0;
        }
    }

    /// <summary>Area taken off this side of the mid-plane; zero or more.</summary>
    public double RemovedMm2
    {
        get
        {
            double area = Math.Max(0, OldAreaMm2(RecessionMm) - OldAreaMm2(Math.Min(LandHeightMm, RecessionMm)));
            foreach (Stretch cut in Cuts)
            {
                double old = OldAreaMm2(cut.ToMm) - OldAreaMm2(cut.FromMm);
                double left = New.AreaMm2(cut.ToMm - RecessionMm) - New.AreaMm2(cut.FromMm - RecessionMm);
                area += Math.Max(0, old - left);
            }
            return area;
        }
    }

    /// <summary>The new facet lies in the old one: nothing changes but what the land has lost already.</summary>
    private bool IsOldFacetKept => Cuts.Count == 0 && RecessionMm == 0 && Old == New && LandHeightMm < ShoulderMm;

    /// <summary>∫ old half-thickness dy from the virtual apex.</summary>
    private double OldAreaMm2(double y)
    {
        if (y <= ShoulderMm)
            return Old.AreaMm2(y);
        double over = y - ShoulderMm;
        return Old.AreaMm2(ShoulderMm) + (HalfAtShoulderMm * over) + (over * over * Math.Tan(FlankRad) / 2);
    }

    private double Gap(double y) => NewHalfMm(y) - OldHalfMm(y);

    private List<double> FindCrossings()
    {
        var found = new List<double>();
        if (StartMm < ShoulderMm)
            AddCrossings(found, StartMm, Math.Min(ShoulderMm, TopMm), Old.IsFlat && New.IsFlat);
        if (TopMm > ShoulderMm)
            AddCrossings(found, Math.Max(StartMm, ShoulderMm), TopMm, New.IsFlat);
        return found;
    }

    private void AddCrossings(List<double> found, double from, double to, bool straight)
    {
        int steps = straight ? 1 : Samples;
        double y0 = from, g0 = Gap(from);
        for (int i = 1; i <= steps; i++)
        {
            double y1 = i == steps ? to : from + ((to - from) * i / steps);
            double g1 = Gap(y1);
            if ((g0 < 0 && g1 >= 0) || (g0 > 0 && g1 < 0))
                found.Add(straight ? Math.Clamp(y0 - (g0 * (y1 - y0) / (g1 - g0)), y0, y1) : Bisect(y0, y1, g0));
            (y0, g0) = (y1, g1);
        }
    }

    private double Bisect(double low, double high, double gapLow)
    {
        for (int i = 0; i < 100 && high > low; i++)
        {
            double middle = low + ((high - low) / 2);
            if (middle <= low || middle >= high)
                break;
            if (Gap(middle) < 0 == gapLow < 0)
                low = middle;
            else
                high = middle;
        }
        return high;
    }

    private List<Stretch> FindCuts()
    {
        var cuts = new List<Stretch>();
        double[] bounds = [StartMm, .. Crossings, TopMm];
        for (int i = 0; i + 1 < bounds.Length; i++)
        {
            double from = bounds[i], to = bounds[i + 1];
            // Two facets that agree to rounding take nothing off.
            if (to - from > 1e-12 && Gap(from + ((to - from) / 2)) < -1e-13)
                cuts.Add(new Stretch(from, to));
        }
        return cuts;
    }
}
