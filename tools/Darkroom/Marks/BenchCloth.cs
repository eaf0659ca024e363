using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>What lies behind the sheet: streaky, out of focus, of some colour.</summary>
internal sealed class BenchCloth
{
    private const int Size = 64;

    private readonly double[] _values = new double[Size * Size];
    private readonly double _alongX;
    private readonly double _alongY;
    private readonly (double R, double G, double B) _colour;

    public BenchCloth(int seed, double brightness)
    {
        Dice dice = new(seed, "bench");
        for (int i = 0; i < _values.Length; i++)
            _values[i] = dice.Unit();
        bool across = dice.Chance(0.5);
        double fine = dice.Between(0.04, 0.2);
        double coarse = fine * dice.Between(0.05, 0.6);
        (_alongX, _alongY) = across ? (coarse, fine) : (fine, coarse);
        double warm = dice.Between(-0.15, 0.35);
        _colour = (brightness * (1 + warm), brightness, brightness * (1 - warm));
    }

    public (double R, double G, double B) At(double xMm, double yMm)
    {
        double x = (xMm * _alongX) + 1000;
        double y = (yMm * _alongY) + 1000;
        double value = 0.5 + (0.7 * (Noise(x, y) - 0.5)) + (0.35 * (Noise((x * 2.3) + 7, (y * 2.3) + 3) - 0.5));
        return (_colour.R * value, _colour.G * value, _colour.B * value);
    }

    private double Noise(double x, double y)
    {
        int column = (int)Math.Floor(x);
        int row = (int)Math.Floor(y);
        double fx = Smooth(x - column);
        double fy = Smooth(y - row);
        double top = Value(column, row) + (fx * (Value(column + 1, row) - Value(column, row)));
        double bottom = Value(column, row + 1) + (fx * (Value(column + 1, row + 1) - Value(column, row + 1)));
        return top + (fy * (bottom - top));
    }

    private double Value(int column, int row) => _values[((row & (Size - 1)) * Size) + (column & (Size - 1))];

    private static double Smooth(double t) => t * t * (3 - (2 * t));
}
