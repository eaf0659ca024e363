using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Mats;

/// <summary>What the steel shows: the room and its lamps, mirrored more or less sharply, and its own stains.</summary>
internal sealed class SteelSkin
{
    private const int Size = 128;

    private readonly MatScene _scene;
    private readonly double[] _noise = new double[Size * Size];
    private readonly double _tintAcross;
    private readonly double _wallDark;
    private readonly double _wallFrom;
    private readonly (double X, double Y, double W, double H)[] _engraving;

    public SteelSkin(MatScene scene)
    {
        _scene = scene;
        Dice dice = new(scene.Seed, "steel");
        for (int i = 0; i < _noise.Length; i++)
            _noise[i] = dice.Unit();
        _tintAcross = dice.Between(-0.4, 0.4);
        _wallDark = dice.Between(0.2, 0.75);
        _wallFrom = Math.Cos(double.DegreesToRadians(dice.Between(18, 50)));
        double length = scene.Shape.LengthMm;
        double height = scene.Shape.HeightMm;
        _engraving = scene.Blade.Engraved
            ? [.. Enumerable.Range(0, 12).Select(i => ((length * 0.12) + (i * 2.6), height * dice.Between(0.6, 0.75), dice.Between(0.4, 1.8), dice.Between(0.4, 3)))]
            : [];
    }

    /// <summary>Light that a place of the steel sends along a ray, in the units of light on the mat.</summary>
    public double Shine(Point2 blade, Point2 mat, double height, Vector3 normalUp, Vector3 rayDown, Vector3 cameraUp)
    {
        Vector3 r = rayDown - (normalUp * (2 * rayDown.Dot(normalUp)));
        LyingBlade steel = _scene.Blade;
        if (r.Z <= 0.02)
            return 0.25;
        double streak = steel.Finish == Finish.Brushed ? 1 + (0.16 * (Noise((blade.X * 0.05) + 40, blade.Y * 7) - 0.5)) : 1;
        double rough = steel.Roughness;
        double wideX = steel.Finish == Finish.Brushed ? rough * 0.25 : rough;
        double wideY = rough;
        double sum = Room(r);
        foreach (Lamp lamp in _scene.Lamps)
        {
            double way = (lamp.AtMm.Z - height) / r.Z;
            double dx = mat.X + (r.X * way) - lamp.AtMm.X;
            double dy = mat.Y + (r.Y * way) - lamp.AtMm.Y;
            double cover = Box(dx, lamp.HalfMm.X, 2 * wideX * way) * Box(dy, lamp.HalfMm.Y, 2 * wideY * way);
            double cos = lamp.AtMm.Z / way;
            double solid = 4 * lamp.HalfMm.X * lamp.HalfMm.Y * Math.Abs(cos) / (way * way);
            sum += Math.PI * lamp.Share * cover / Math.Max(1e-3, solid);
        }

        // The one who takes the picture darkens what lies behind the camera.
        Vector3 toCamera = cameraUp - new Vector3(mat.X, mat.Y, height);
        double off = 1 - (toCamera.Dot(r) / toCamera.Norm);
        sum *= 1 - (0.6 / (1 + Math.Exp((off - 0.02) / 0.006)));
        double mirror = 0.6 * sum * streak;
        if (steel.Finish == Finish.Patina)
        {
            double stain = (0.6 * Noise(blade.X * 0.22, blade.Y * 0.22)) + (0.4 * Noise((blade.X * 0.9) + 17, blade.Y * 0.9));
            double share = Math.Clamp((stain - 0.25) * 1.6, 0, 0.9);
            mirror = (mirror * (1 - share)) + (share * (0.06 + (0.2 * stain)) * (1 + _scene.Lamps.Sum(l => l.Share)));
        }

        foreach ((double x, double y, double w, double h) in _engraving)
        {
            if (blade.X > x && blade.X < x + w && blade.Y > y && blade.Y < y + h)
                mirror *= 0.3;
        }

        return mirror;
    }

    // Bright ceiling, darker walls; from what slope on the walls begin differs from room to room.
    private double Room(Vector3 r) => (_wallDark + ((1 - _wallDark) / (1 + Math.Exp((_wallFrom - r.Z) / 0.035)))) * (1 + (_tintAcross * r.X)) * (1 + (0.12 * Math.Sin((9 * r.X) + (5 * r.Y))));

    private static double Box(double at, double half, double blur)
    {
        double soft = Math.Max(4, blur) * 0.6;
        return (1 / (1 + Math.Exp((at - half) / soft))) - (1 / (1 + Math.Exp((at + half) / soft)));
    }

    private double Noise(double x, double y)
    {
        int column = (int)Math.Floor(x);
        int row = (int)Math.Floor(y);
        double fx = x - column;
        double fy = y - row;
        double V(int c, int r) => _noise[((r & (Size - 1)) * Size) + (c & (Size - 1))];
        double top = V(column, row) + (fx * (V(column + 1, row) - V(column, row)));
        double bottom = V(column, row + 1) + (fx * (V(column + 1, row + 1) - V(column, row + 1)));
        return top + (fy * (bottom - top));
    }
}
