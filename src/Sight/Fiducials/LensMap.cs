using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Fiducials;

/// <summary>
/// Sheet millimetres ↔ photo pixels: a homography followed by radial distortion about the picture's middle,
/// q = c + f·u·(1 + k₁|u|² + k₂|u|⁴), u = H·(x, y, 1) dehomogenised. f is nominal (0.75 × the longer side): it only scales k₁, k₂.
/// Leaves out tangential distortion and paper that is not flat.
/// </summary>
public sealed class LensMap
{
    internal const int ParameterCount = 10;

    private readonly double[] _p;
    private readonly double[] _inverse;
    private readonly double _centreX;
    private readonly double _centreY;
    private readonly double _focalPx;

    internal LensMap(double[] parameters, int widthPx, int heightPx)
    {
        _p = parameters;
        (_centreX, _centreY, _focalPx) = Frame(widthPx, heightPx);
        _inverse = Invert(parameters);
    }

    /// <summary>First radial coefficient, in units of the nominal focal length.</summary>
    public double K1 => _p[8];

    /// <summary>Second radial coefficient.</summary>
    public double K2 => _p[9];

    /// <summary>The ten numbers of the map: eight of the homography (the ninth is 1), then both radial coefficients.</summary>
    public IReadOnlyList<double> Numbers => _p;

    /// <summary>The map of a picture of that size again from its ten numbers.</summary>
    /// <exception cref="ArgumentException">Not ten finite numbers, or no size.</exception>
    public static LensMap From(IReadOnlyList<double> numbers, int widthPx, int heightPx)
    {
        if (numbers.Count != ParameterCount || !numbers.All(double.IsFinite))
            throw new ArgumentException($"A lens map has {ParameterCount} finite numbers.", nameof(numbers));
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(widthPx);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(heightPx);
        return new([.. numbers], widthPx, heightPx);
    }

    internal double[] Parameters => _p;

    /// <summary>Where a point of the sheet (millimetres as drawn) appears in the photo.</summary>
    public Point2 ToPhoto(Point2 sheetMm)
    {
        double w = (_p[6] * sheetMm.X) + (_p[7] * sheetMm.Y) + 1;
        double u = ((_p[0] * sheetMm.X) + (_p[1] * sheetMm.Y) + _p[2]) / w;
        double v = ((_p[3] * sheetMm.X) + (_p[4] * sheetMm.Y) + _p[5]) / w;
        double r2 = (u * u) + (v * v);
        double s = _focalPx * (1 + (r2 * (_p[8] + (r2 * _p[9]))));
        return new(_centreX + (s * u), _centreY + (s * v));
    }

    /// <summary>Which point of the sheet (millimetres as drawn) a pixel shows.</summary>
    public Point2 ToSheet(Point2 photoPx)
    {
        double du = (photoPx.X - _centreX) / _focalPx;
        double dv = (photoPx.Y - _centreY) / _focalPx;
        double u = du;
        double v = dv;
        for (int i = 0; i < 8; i++)
        {
            double r2 = (u * u) + (v * v);
            double s = 1 + (r2 * (_p[8] + (r2 * _p[9])));
            (u, v) = (du / s, dv / s);
        }

        double w = (_inverse[6] * u) + (_inverse[7] * v) + _inverse[8];
        return new(
            ((_inverse[0] * u) + (_inverse[1] * v) + _inverse[2]) / w,
            ((_inverse[3] * u) + (_inverse[4] * v) + _inverse[5]) / w);
    }

    /// <summary>Photo pixels per millimetre near a point of the sheet (geometric mean of both directions).</summary>
    public double PixelsPerMm(Point2 sheetMm)
    {
        Point2 o = ToPhoto(sheetMm);
        Vector2 x = ToPhoto(new(sheetMm.X + 1, sheetMm.Y)) - o;
        Vector2 y = ToPhoto(new(sheetMm.X, sheetMm.Y + 1)) - o;
        return Math.Sqrt(Math.Abs(x.Cross(y)));
    }

    internal static (double CentreX, double CentreY, double FocalPx) Frame(int widthPx, int heightPx) =>
        ((widthPx - 1) / 2.0, (heightPx - 1) / 2.0, 0.75 * Math.Max(widthPx, heightPx));

    private static double[] Invert(double[] p)
    {
        double[] m = [p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7], 1];
        double a = (m[4] * m[8]) - (m[5] * m[7]);
        double b = (m[5] * m[6]) - (m[3] * m[8]);
        double c = (m[3] * m[7]) - (m[4] * m[6]);
        double det = (m[0] * a) + (m[1] * b) + (m[2] * c);
        return
        [
            a / det, ((m[2] * m[7]) - (m[1] * m[8])) / det, ((m[1] * m[5]) - (m[2] * m[4])) / det,
            b / det, ((m[0] * m[8]) - (m[2] * m[6])) / det, ((m[2] * m[3]) - (m[0] * m[5])) / det,
            c / det, ((m[1] * m[6]) - (m[0] * m[7])) / det, ((m[0] * m[4]) - (m[1] * m[3])) / det,
        ];
    }
}
