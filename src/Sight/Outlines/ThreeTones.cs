namespace Whetwright.Sight.Outlines;

/// <summary>Three tones from the normal equations of a least-squares fit: a symmetric system of three, solved by its cofactors (Cramer's rule).</summary>
internal readonly struct ThreeTones
{
    private readonly double _c00, _c01, _c02, _c11, _c12, _c22, _det;

    /// <summary>Of the symmetric matrix's upper half; it must not be singular.</summary>
    public ThreeTones(double m00, double m01, double m02, double m11, double m12, double m22)
    {
        _c00 = (m11 * m22) - (m12 * m12);
        _c01 = (m02 * m12) - (m01 * m22);
        _c02 = (m01 * m12) - (m02 * m11);
        _c11 = (m00 * m22) - (m02 * m02);
        _c12 = (m01 * m02) - (m00 * m12);
        _c22 = (m00 * m11) - (m01 * m01);
        _det = (m00 * _c00) + (m01 * _c01) + (m02 * _c02);
    }

    /// <summary>Solution for a right-hand side.</summary>
    public (double X, double Y, double Z) Solve(double b0, double b1, double b2) => (
        ((_c00 * b0) + (_c01 * b1) + (_c02 * b2)) / _det,
        ((_c01 * b0) + (_c11 * b1) + (_c12 * b2)) / _det,
        ((_c02 * b0) + (_c12 * b1) + (_c22 * b2)) / _det);
}
