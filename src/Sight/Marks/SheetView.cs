using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Marks;

/// <summary>What of the reading row can be seen, by the bevel that a mark there would mean: where the paper ends, and where the blade stands in front.</summary>
internal sealed class SheetView
{
    /// <summary>The blade hides a place where it covers most of the row's neighbourhood, this far up and down. Chosen.</summary>
    private const double BandMm = 2;

    /// <summary>A mark of the row is sought this far up and down, and by this part of its distance from zero more. Chosen.</summary>
    private const double SearchMm = 2;

    private const double SearchShare = 0.04;

    private readonly List<(Side Side, double FromDeg, double ToDeg)> _hidden = [];
    private readonly LaserLight _light;
    private readonly Point2 _zeroMm;
    private readonly double _rowMm;
    private readonly double _distanceMm;
    private readonly double _rimLeftDeg;
    private readonly double _rimRightDeg;

    public SheetView(LaserLight light, Point2 zeroMm, double rowMm, double distanceMm)
    {
        (_light, _zeroMm, _rowMm, _distanceMm) = (light, zeroMm, rowMm, distanceMm);
        double Deg(double outMm) => double.RadiansToDegrees(Math.Atan2(outMm, distanceMm)) / 2;
        double step = SheetField.StepMm * LaserLight.Coarse;
        _rimLeftDeg = Deg(zeroMm.X - light.Field.FromX);
        _rimRightDeg = Deg(light.Field.FromX + (light.Width * step) - zeroMm.X);
        int middle = (int)Math.Round((rowMm - light.Field.FromY) / step);
        int half = (int)(BandMm / step);
        for (int column = 0; column < light.Width; column++)
        {
            int hidden = 0;
            for (int row = Math.Max(0, middle - half); row <= Math.Min(light.Height - 1, middle + half); row++)
                hidden += light.IsBlade(column, row) ? 1 : 0;
            if (hidden <= half)
                continue;
            double x = light.Field.FromX + (column * step) - zeroMm.X;
            _hidden.Add((x < 0 ? Side.Left : Side.Right, Deg(Math.Abs(x) - step), Deg(Math.Abs(x) + step)));
        }
    }

    /// <summary>True where a mark of such a bevel would lie behind the blade.</summary>
    public bool IsHidden(Side side, double deg) => _hidden.Exists(h => h.Side == side && deg >= h.FromDeg && deg <= h.ToDeg);

    /// <summary>The bevel whose mark falls on the paper's rim.</summary>
    public double RimDeg(Side side) => side == Side.Left ? _rimLeftDeg : _rimRightDeg;

    /// <summary>
    /// The brightest light about the row between two bevels; infinite where the blade, a fiducial or the rim takes part of it away, for there it may be of any brightness.
    /// </summary>
    public double Brightest(Side side, double fromDeg, double toDeg)
    {
        double step = SheetField.StepMm * LaserLight.Coarse;
        int a = Math.Min(Column(side, fromDeg), Column(side, toDeg));
        int b = Math.Max(Column(side, fromDeg), Column(side, toDeg));
        int middle = (int)Math.Round((_rowMm - _light.Field.FromY) / step);
        int half = (int)((SearchMm + (SearchShare * Math.Abs((a + b - (2 * (_zeroMm.X - _light.Field.FromX) / step)) * step / 2))) / step);
        double most = 0;
        for (int column = a; column <= b; column++)
        {
            for (int row = middle - half; row <= middle + half; row++)
            {
                if (_light.IsBlocked(column, row))
                {
                    if (Math.Abs(row - middle) <= (int)(BandMm / step))
                        return double.PositiveInfinity;
                    continue;
                }

                most = Math.Max(most, _light.Smooth[(row * _light.Width) + column]);
            }
        }

        return most;
    }

    /// <summary>The light on the row where a mark of such a bevel would lie.</summary>
    public double OnRow(Side side, double deg)
    {
        int column = Column(side, deg);
        int row = (int)Math.Round((_rowMm - _light.Field.FromY) / (SheetField.StepMm * LaserLight.Coarse));
        return _light.IsBlocked(column, row) ? 0 : _light.Smooth[(row * _light.Width) + column];
    }

    private int Column(Side side, double deg)
    {
        double outMm = _distanceMm * Math.Tan(double.DegreesToRadians(2 * Math.Clamp(deg, 0, 40)));
        return (int)Math.Round((_zeroMm.X + (side == Side.Left ? -outMm : outMm) - _light.Field.FromX) / (SheetField.StepMm * LaserLight.Coarse));
    }
}
