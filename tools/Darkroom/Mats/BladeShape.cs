using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Mats;

/// <summary>Kinds of outline, by trade words.</summary>
public enum BladeFamily
{
    Chef,
    Petty,
    Santoku,
    Slicer,
    Paring,
    Cleaver,
}

/// <summary>A notch in the edge.</summary>
public sealed record Chip(string Kind, double AtMm, double DepthMm, double WidthMm);

/// <summary>
/// A blade's outline in its own plane: x from heel to tip, y from the edge toward the spine. The edge runs from the heel (the origin) to the tip.
/// </summary>
public sealed class BladeShape
{
    private const double StepMm = 0.15;

    private BladeShape(BladeFamily family, IReadOnlyList<Point2> nominal, IReadOnlyList<Chip> chips, IReadOnlyList<Point2> edge, IReadOnlyList<Point2> back)
    {
        Family = family;
        NominalEdge = nominal;
        Chips = chips;
        Edge = edge;
        Back = back;
    }

    public BladeFamily Family { get; }

    /// <summary>The edge without its chips.</summary>
    public IReadOnlyList<Point2> NominalEdge { get; }

    public IReadOnlyList<Chip> Chips { get; }

    /// <summary>The edge, heel to tip, chips and all.</summary>
    public IReadOnlyList<Point2> Edge { get; }

    /// <summary>From the tip over the spine to the heel, both ends left out.</summary>
    public IReadOnlyList<Point2> Back { get; }

    public IReadOnlyList<Point2> Outline => [.. Edge, .. Back];

    public double LengthMm => NominalEdge[0].DistanceTo(NominalEdge[^1]);

    public double HeightMm => Outline.Max(p => p.Y) - Outline.Min(p => p.Y);

    /// <summary>Draws a shape of a family with so many chips.</summary>
    public static BladeShape Draw(BladeFamily family, int chipCount, double leastChipMm, double mostChipMm, double longestMm, Dice dice)
    {
        (double least, double most, double low, double high) = family switch
        {
            BladeFamily.Chef => (175.0, 260.0, 40.0, 54.0),
            BladeFamily.Petty => (105.0, 160.0, 24.0, 33.0),
            BladeFamily.Santoku => (150.0, 190.0, 40.0, 50.0),
            BladeFamily.Slicer => (220.0, 310.0, 27.0, 42.0),
            BladeFamily.Paring => (70.0, 105.0, 17.0, 25.0),
            _ => (150.0, 230.0, 65.0, 100.0),
        };
        double length = dice.Between(least, Math.Min(most, longestMm));
        double height = dice.Between(low, high);
        double flat = length * family switch { BladeFamily.Santoku => dice.Between(0.45, 0.7), BladeFamily.Cleaver => dice.Between(0.3, 0.8), _ => dice.Between(0.2, 0.55) };
        double rise = height * family switch { BladeFamily.Cleaver => dice.Between(0, 0.06), BladeFamily.Santoku => dice.Between(0.08, 0.25), _ => dice.Between(0.2, 0.6) };
        double power = dice.Between(1.8, 2.6);
        double EdgeAt(double x) => x <= flat ? 0 : rise * Math.Pow((x - flat) / (length - flat), power);
        List<Point2> fine = [];
        for (double x = 0; x < length; x += StepMm / 3)
            fine.Add(new(x, EdgeAt(x)));
        fine.Add(new(length, rise));
        List<Point2> nominal = Even(fine);
        double spineFrom = length * family switch { BladeFamily.Santoku => dice.Between(0.7, 0.85), BladeFamily.Cleaver => 1, _ => dice.Between(0.35, 0.75) };
        double spinePower = dice.Between(1.7, 3);
        double heelIn = dice.Between(-0.08, 0.12) * height;
        List<Point2> back = [];
        if (family == BladeFamily.Cleaver)
        {
            back.Add(new(length - (0.02 * height), height));
        }
        else
        {
            const int steps = 60;
            for (int i = 1; i <= steps; i++)
            {
                double x = length - ((length - spineFrom) * i / steps);
                back.Add(new(x, height - ((height - rise) * Math.Pow(Math.Max(0, x - spineFrom) / (length - spineFrom), spinePower)))); // the last step may round to just before
            }
        }

        back.Add(new(heelIn, height));
        List<Chip> chips = DrawChips(nominal, chipCount, leastChipMm, mostChipMm, dice);
        return new(family, nominal, chips, Carve(nominal, chips), back);
    }

    private static List<Point2> Even(List<Point2> fine)
    {
        List<Point2> even = [fine[0]];
        double left = StepMm;
        for (int i = 1; i < fine.Count; i++)
        {
            double step = fine[i - 1].DistanceTo(fine[i]);
            left -= step;
            if (left > 0 && i < fine.Count - 1)
                continue;
            even.Add(fine[i]);
            left = StepMm;
        }

        return even;
    }

    private static List<Chip> DrawChips(List<Point2> edge, int count, double least, double most, Dice dice)
    {
        List<Chip> chips = [];
        double arc = Arcs(edge)[^1];
        for (int attempt = 0; attempt < 60 && chips.Count < count; attempt++)
        {
            double depth = dice.LogIn(new(least, most));
            double width = depth * dice.Between(1.2, 2.6);
            double at = dice.Between(6 + width, arc - 8 - width);
            if (chips.All(c => Math.Abs(c.AtMm - at) > 4 + c.WidthMm + width))
                chips.Add(new(dice.Chance(0.5) ? "v" : "round", at, depth, width));
        }

        return [.. chips.OrderBy(c => c.AtMm)];
    }

    private static double[] Arcs(List<Point2> edge)
    {
        var arcs = new double[edge.Count];
        for (int i = 1; i < edge.Count; i++)
            arcs[i] = arcs[i - 1] + edge[i - 1].DistanceTo(edge[i]);
        return arcs;
    }

    private static List<Point2> Carve(List<Point2> edge, List<Chip> chips)
    {
        double[] arcs = Arcs(edge);
        List<Point2> carved = [];
        for (int i = 0; i < edge.Count; i++)
        {
            Vector2 along = (edge[Math.Min(i + 1, edge.Count - 1)] - edge[Math.Max(i - 1, 0)]).Normalized();
            var inward = new Vector2(-along.Y, along.X);
            double depth = 0;
            foreach (Chip chip in chips)
            {
                double t = Math.Abs(arcs[i] - chip.AtMm) / (chip.WidthMm / 2);
                if (t < 1)
                    depth = chip.Kind == "v" ? chip.DepthMm * (1 - t) : chip.DepthMm * Math.Sqrt(1 - (t * t));
            }

            carved.Add(edge[i] + (inward * depth));
        }

        return carved;
    }
}
