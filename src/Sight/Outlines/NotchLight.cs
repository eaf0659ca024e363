namespace Whetwright.Sight.Outlines;

/// <summary>Least squares over a notch's open light, its shade and a lamp's light, each within its bounds, tried singly and together.</summary>
internal record struct NotchLight
{
    /// <summary>The most that one lamp gives, in parts of the paper's light. Chosen.</summary>
    public const double MostLit = 0.9;

    /// <summary>Half a sky and no lamp at all leave a notch so much of the paper's light. Chosen.</summary>
    private const double LeastOpen = 0.2;

    private const double MostOpen = 1.15;
    private const double MostShade = 0.9;
    private const double MostTogether = 1.2;

    /// <summary>A term more must make the misfit smaller by this share.</summary>
    private const double TermMustGain = 0.02;

    private double _closed;
    private double _oo;
    private double _os;
    private double _ol;
    private double _ss;
    private double _sl;
    private double _ll;
    private double _o;
    private double _s;
    private double _l;

    /// <summary>One place: what it departs by once the steel is gone, and how much of each light it has.</summary>
    public void Add(double weight, double departure, double open, double shade, double lit)
    {
        double wd = weight * departure;
        (double wo, double ws, double wl) = (weight * open, weight * shade, weight * lit);
        _closed += wd * departure;
        (_o, _s, _l) = (_o + (wd * open), _s + (wd * shade), _l + (wd * lit));
        (_oo, _os, _ol) = (_oo + (wo * open), _os + (wo * shade), _ol + (wo * lit));
        (_ss, _sl, _ll) = (_ss + (ws * shade), _sl + (ws * lit), _ll + (wl * lit));
    }

    /// <summary>What is left of the squares, and the light that leaves least.</summary>
    /// <param name="mostLit">The most that a lamp gives here; none where 0.</param>
    public readonly (double Left, NotchMix Mix) Best(double mostLit)
    {
        double left = double.PositiveInfinity;
        NotchMix mix = default;
        for (int which = 0; which < (mostLit > 0 ? 4 : 2); which++)
        {
            (double x, double y, double z) = Solve((which & 1) != 0, which > 1);
            (x, z) = (Math.Clamp(x, LeastOpen, MostOpen), Math.Clamp(z, 0, mostLit));
            y = Math.Clamp(y, 0, Math.Min(MostShade, x));
            double to = Math.Min(1, MostTogether / (x + z));
            (x, z) = (x * to, z * to);
            double e = _closed - (2 * ((x * _o) + (y * _s) + (z * _l))) + (x * x * _oo) + (y * y * _ss) + (z * z * _ll) + (2 * ((x * y * _os) + (x * z * _ol) + (y * z * _sl)));
            if (e < left * (1 - TermMustGain))
                (left, mix) = (e, new(x, y, z));
        }

        return (left, mix);
    }

    // A term that is left out gets a diagonal that holds it at nought; the others a touch of one that keeps them from running away.
    private readonly (double X, double Y, double Z) Solve(bool second, bool third)
    {
        const double touch = 1.001;
        (double m00, double m11, double m22) = (_oo * touch, (second ? _ss : 1) * touch, (third ? _ll : 1) * touch);
        (double m01, double m02, double m12) = (second ? _os : 0, third ? _ol : 0, second && third ? _sl : 0);
        (double b0, double b1, double b2) = (_o, second ? _s : 0, third ? _l : 0);
        double c00 = (m11 * m22) - (m12 * m12);
        double c01 = (m02 * m12) - (m01 * m22);
        double c02 = (m01 * m12) - (m02 * m11);
        double det = (m00 * c00) + (m01 * c01) + (m02 * c02);
        if (!(Math.Abs(det) > 1e-30))
            return (0, 0, 0);
        return (
            ((c00 * b0) + (c01 * b1) + (c02 * b2)) / det,
            ((c01 * b0) + (((m00 * m22) - (m02 * m02)) * b1) + (((m01 * m02) - (m00 * m12)) * b2)) / det,
            ((c02 * b0) + (((m01 * m02) - (m00 * m12)) * b1) + (((m00 * m11) - (m01 * m01)) * b2)) / det);
    }
}
