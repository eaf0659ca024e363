using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Targets;

/// <summary>Marks that target and mat share. Black and grey only: no red, no green, so that no laser hides in the print.</summary>
internal static class SheetMarks
{
    /// <summary>A fiducial as squares, its dictionary picture turned to its own top left.</summary>
    internal static void Fiducial(Drawing drawing, SheetFiducial fiducial)
    {
        double side = fiducial.ModuleMm * KnownFiducials.ModulesAcross;
        double module = fiducial.ModuleMm;
        drawing.Rectangle(fiducial.LeftMm, fiducial.TopMm, side, side, null, Ink.Main);
        for (int row = 1; row < 5; row++)
        {
            for (int column = 1; column < 5; column++)
            {
                if (!KnownFiducials.IsWhite(fiducial.Id, row, column))
                    continue;
                int run = 1;
                while (column + run < 5 && KnownFiducials.IsWhite(fiducial.Id, row, column + run))
                    run++;
                drawing.Rectangle(fiducial.LeftMm + (column * module), fiducial.TopMm + (row * module), run * module, module, null, Ink.Paper);
                BridgeBelow(drawing, fiducial, row, column, run);
                column += run;
            }
        }
    }

    /// <summary>A check line across with its end ticks; the distance between the ticks' middles is what is measured.</summary>
    internal static void CheckAcross(Drawing drawing, Point2 from, string words)
    {
        double to = from.X + SheetAids.CheckLineMm;
        var stroke = new Stroke(0.2);
        drawing.Line(from.X, from.Y, to, from.Y, stroke);
        drawing.Line(from.X, from.Y - 2, from.X, from.Y + 2, stroke).Line(to, from.Y - 2, to, from.Y + 2, stroke);
        drawing.Text((from.X + to) / 2, from.Y - 0.9, words, 2.3, TextAnchor.Middle);
    }

    /// <summary>A check line down.</summary>
    internal static void CheckDown(Drawing drawing, Point2 from, string words)
    {
        double to = from.Y + SheetAids.CheckLineMm;
        var stroke = new Stroke(0.2);
        drawing.Line(from.X, from.Y, from.X, to, stroke);
        drawing.Line(from.X - 1.5, from.Y, from.X + 1.5, from.Y, stroke).Line(from.X - 1.5, to, from.X + 1.5, to, stroke);
        drawing.Text(from.X + 2.9, (from.Y + to) / 2, words, 2.3, TextAnchor.Middle, turnDeg: -90);
    }

    /// <summary>A number as it stands on a sheet.</summary>
    internal static string Number(double value, string format = "0.##") => value.ToString(format, CultureInfo.InvariantCulture);

    // White modules that touch are joined by a thin overlap, or a viewer's smoothing leaves a grey seam between them.
    private static void BridgeBelow(Drawing drawing, SheetFiducial fiducial, int row, int column, int run)
    {
        if (row == 4)
            return;
        double module = fiducial.ModuleMm;
        for (int c = column; c < column + run; c++)
        {
            if (KnownFiducials.IsWhite(fiducial.Id, row + 1, c))
                drawing.Rectangle(fiducial.LeftMm + (c * module) + 0.05, fiducial.TopMm + ((row + 1) * module) - 0.1, module - 0.1, 0.2, null, Ink.Paper);
        }
    }
}
