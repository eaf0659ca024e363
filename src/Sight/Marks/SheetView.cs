using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Marks;

/// <summary>What of the reading row can be seen, by the bevel that a mark there would mean: where the paper ends, and where the blade stands in front.</summary>
internal sealed class SheetView
{
    /// <summary>The blade hides a place where it covers most of the row's neighbourhood, this far up and down. Chosen.</summary>
    private const double BandMm = 2;

    private readonly List<(Side Side, double FromDeg, double ToDeg)> _hidden = [];
    private readonly double _rimLeftDeg;
    private readonly double _rimRightDeg;

    public SheetView(LaserLight light, Point2 zeroMm, double rowMm, double distanceMm)
    {
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
}
