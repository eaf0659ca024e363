using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Mats;

/// <summary>From the blade's plane to the mat and back.</summary>
public sealed class MatFrame
{
    private readonly double _s;
    private readonly double _c;
    private readonly double _sign;
    private readonly Point2 _heel;

    public MatFrame(LyingBlade blade)
    {
        (_s, _c) = Math.SinCos(blade.TurnRad);
        _sign = blade.Mirrored ? 1 : -1;
        _heel = blade.HeelMm;
    }

    public Point2 ToMat(Point2 blade) => new(
        _heel.X + (blade.X * _c) - (_sign * blade.Y * _s),
        _heel.Y + (blade.X * _s) + (_sign * blade.Y * _c));

    public Point2 ToBlade(Point2 mat)
    {
        double dx = mat.X - _heel.X;
        double dy = mat.Y - _heel.Y;
        return new((dx * _c) + (dy * _s), _sign * ((dy * _c) - (dx * _s)));
    }

    /// <summary>A direction along the blade's plane on the mat.</summary>
    public Vector2 Direction(double x, double y) => new((x * _c) - (_sign * y * _s), (x * _s) + (_sign * y * _c));
}
