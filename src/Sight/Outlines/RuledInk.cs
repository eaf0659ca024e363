using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The ink of thin lines ruled on the mat around a blade: what share of the paper's light it takes at any place, so that a line which runs along an edge, or by a heel or a tip, is known
/// for what it is. The lines are told where open paper shows them, and run on straight from there.
/// </summary>
internal sealed class RuledInk
{
    /// <summary>Paper is looked at up to so far around the blade, and no nearer to it than the second, clear of its shadows' dark, mm. Chosen.</summary>
    private const double AroundMm = 15, ClearMm = 3;

    /// <summary>A line is looked at in places so far apart, mm. Chosen.</summary>
    private const double EveryMm = 1;

    /// <summary>A line is as dark as all are in the mean, times this at least and at most: print is uneven. Chosen.</summary>
    private const double Palest = 0.5, Darkest = 1.6;

    private readonly (RuledLines.RuledLine Line, double Strength)[] _lines;
    private readonly double[] _profile;

    private RuledInk((RuledLines.RuledLine Line, double Strength)[] lines, double[] profile) => (_lines, _profile) = (lines, profile);

    /// <summary>How many lines.</summary>
    public int Count => _lines.Length;

    /// <summary>Of lines at known places, for drawings.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="profile">Share of the light that a line takes, from <see cref="RuledLines.BesideMm"/> on one side of its middle to the other, <see cref="RuledLines.LateralMm"/> apart.</param>
    internal static RuledInk Of(IEnumerable<RuledLines.RuledLine> lines, double[] profile) => new([.. lines.Select(l => (l, 1.0))], profile);

    /// <summary>Looks for lines around a blade; null where there are none.</summary>
    /// <param name="sampler">The photo.</param>
    /// <param name="map">Mat to photo.</param>
    /// <param name="outline">The blade's outline on the mat.</param>
    public static RuledInk? Around(PhotoSampler sampler, LensMap map, Point2[] outline)
    {
        var paper = new RuledLines.Paper(sampler, map);
        (RuledLines.RuledLine Line, Point2[] Seen)[] found = [.. new[] { true, false }.SelectMany(down => Lines(paper, outline, down))];
        if (found.Length == 0)
            return null;
        double[] profile = paper.Mean(found.SelectMany(f => f.Seen.Select(p => (f.Line, p))));
        double squares = profile.Sum(v => v * v);
        double Strength((RuledLines.RuledLine Line, Point2[] Seen) one) => Math.Clamp(paper.Mean(one.Seen.Select(p => (one.Line, p))).Zip(profile, (a, b) => a * b).Sum() / squares, Palest, Darkest);
        return squares > 0 ? new([.. found.Select(f => (f.Line, Strength(f)))], profile) : null;
    }

    /// <summary>Share of the paper's light that ink takes at a place of the mat.</summary>
    public double At(Point2 p)
    {
        double kept = 1;
        foreach ((RuledLines.RuledLine line, double strength) in _lines)
        {
            double off = line.Off(p);
            if (Math.Abs(off) < RuledLines.BesideMm)
                kept *= 1 - (strength * Profile(off));
        }

        return 1 - kept;
    }

    /// <summary>The lines whose ink may lie on any of some places.</summary>
    public RuledInk? Near(IReadOnlyList<Point2> places)
    {
        (RuledLines.RuledLine, double)[] near = [.. _lines.Where(l => places.Min(l.Line.Off) < RuledLines.BesideMm && places.Max(l.Line.Off) > -RuledLines.BesideMm)];
        return near.Length == 0 ? null : new(near, _profile);
    }

    private double Profile(double off)
    {
        double at = (off + RuledLines.BesideMm) / RuledLines.LateralMm;
        int i = Math.Clamp((int)at, 0, _profile.Length - 2);
        double t = Math.Clamp(at - i, 0, 1);
        return ((1 - t) * _profile[i]) + (t * _profile[i + 1]);
    }

    private static IEnumerable<(RuledLines.RuledLine Line, Point2[] Seen)> Lines(RuledLines.Paper paper, Point2[] outline, bool down)
    {
        double Across(Point2 p) => down ? p.X : p.Y;
        double Along(Point2 p) => down ? p.Y : p.X;
        (double from, double to) = (outline.Min(Across) - AroundMm, outline.Max(Across) + AroundMm);
        (double first, double last) = (outline.Min(Along) - AroundMm, outline.Max(Along) + AroundMm);
        int n = (int)((to - from) / RuledLines.StepMm);
        Point2[][] seen = [.. Enumerable.Range(0, n + 1).Select(k => Open(from + (k * RuledLines.StepMm)).ToArray())];
        double?[] dips = [.. seen.Select((places, k) => paper.Dip(new(down, from + (k * RuledLines.StepMm)), places))];
        return RuledLines.Dips(dips).Select(at => (At: from + (at * RuledLines.StepMm), Seen: seen[(int)Math.Round(at)]))
            .Select(l => (new RuledLines.RuledLine(down, l.At), l.Seen.Select(p => down ? p with { X = l.At } : p with { Y = l.At }).ToArray()));

        // Places on a line that lie clear of the blade, on the line and to both sides of it.
        IEnumerable<Point2> Open(double at)
        {
            List<(double From, double To)> covered = [];
            foreach (double aside in (double[])[-ClearMm, 0, ClearMm])
                covered.AddRange(Inside(at + aside));
            for (double s = first; s <= last; s += EveryMm)
            {
                Point2 p = down ? new(at, s) : new(s, at);
                if (covered.All(c => s < c.From - ClearMm || s > c.To + ClearMm) && paper.Holds(p))
                    yield return p;
            }
        }

        // Where a line is over the blade.
        IEnumerable<(double From, double To)> Inside(double at)
        {
            List<double> crossings = [];
            for (int i = 0; i < outline.Length; i++)
            {
                (Point2 a, Point2 b) = (outline[i], outline[(i + 1) % outline.Length]);
                (double before, double after) = (Across(a) - at, Across(b) - at);
                if ((before < 0) != (after < 0))
                    crossings.Add(Along(a) + ((Along(b) - Along(a)) * before / (before - after)));
            }

            crossings.Sort();
            for (int i = 0; i + 1 < crossings.Count; i += 2)
                yield return (crossings[i], crossings[i + 1]);
        }
    }
}
