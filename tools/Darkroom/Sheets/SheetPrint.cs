using System.Globalization;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Darkroom.Sheets;

/// <summary>What the printer left on a sheet: reflectance on a fine grid, drawn with area coverage from the sheet's geometry.</summary>
public sealed class SheetPrint
{
    /// <summary>Cells per millimetre.</summary>
    public const int PerMm = 8;

    private readonly int _columns;
    private readonly int _rows;
    private readonly byte[] _cells;

    private SheetPrint(double widthMm, double heightMm)
    {
        WidthMm = widthMm;
        HeightMm = heightMm;
        _columns = (int)Math.Ceiling(widthMm * PerMm);
        _rows = (int)Math.Ceiling(heightMm * PerMm);
        _cells = new byte[_columns * _rows];
        Array.Fill(_cells, (byte)255);
    }

    public double WidthMm { get; }

    public double HeightMm { get; }

    /// <summary>The target: fiducials, degree ticks off the plain stripe, zero lines, check line, faint print.</summary>
    public static SheetPrint OfTarget(TargetSheet sheet)
    {
        SheetPrint print = new(sheet.SizeMm.X, sheet.SizeMm.Y);
        foreach (SheetFiducial fiducial in sheet.Fiducials)
            print.Draw(fiducial);
        using Mat mat = print.AsMat();
        for (int degrees = 1; degrees <= 24; degrees++)
        {
            double offset = sheet.DistanceMm * Math.Tan(double.DegreesToRadians(2 * degrees));
            foreach (int side in (int[])[-1, 1])
            {
                double x = sheet.ZeroMm.X + (side * offset);
                if (x < sheet.SpotFieldMm.LeftMm || x > sheet.SpotFieldMm.RightMm)
                    continue;
                double length = degrees % 5 == 0 ? 5 : 3;
                print.Line(mat, x, sheet.ZeroMm.Y - 20, x, sheet.ZeroMm.Y - 20 - length, 150, 0.2);
                print.Line(mat, x, sheet.ZeroMm.Y + 20, x, sheet.ZeroMm.Y + 20 + length, 150, 0.2);
                if (degrees % 5 == 0)
                    print.Text(mat, degrees.ToString(CultureInfo.InvariantCulture), x - 2.2, sheet.ZeroMm.Y - 26.5, 3, 140);
            }
        }

        print.Line(mat, sheet.ZeroMm.X, sheet.ZeroMm.Y - 18, sheet.ZeroMm.X, sheet.ZeroMm.Y - 27, 90, 0.25);
        print.Line(mat, sheet.ZeroMm.X, sheet.ZeroMm.Y + 18, sheet.ZeroMm.X, sheet.ZeroMm.Y + 27, 90, 0.25);
        print.Line(mat, sheet.ZeroMm.X, sheet.ZeroMm.Y - 18, sheet.ZeroMm.X, sheet.ZeroMm.Y + 18, 225, 0.15);
        print.Line(mat, sheet.ZeroMm.X - 50, sheet.SpotFieldMm.BottomMm + 13, sheet.ZeroMm.X + 50, sheet.SpotFieldMm.BottomMm + 13, 110, 0.3);
        print.Text(mat, "100 mm check line", sheet.ZeroMm.X - 18, sheet.SpotFieldMm.BottomMm + 12, 2.6, 150);
        print.Text(mat, "darkroom target   degrees per side", sheet.ZeroMm.X - 34, sheet.SpotFieldMm.TopMm - 10, 2.6, 150);
        return print;
    }

    /// <summary>
    /// Tone of a mat's ruled lines, an eighth of a millimetre wide at least: they take as much light as those that <c>mat</c> prints, and as most on the shared photos do (0.03 to
    /// 0.07 mm of black).
    /// </summary>
    private const byte Ruled = 165;

    /// <summary>A mat: fiducials, a check line in the lower margin of the field and, unless it is plain, lines ruled from rim to rim.</summary>
    public static SheetPrint OfMat(MatSheet sheet, bool grid)
    {
        SheetPrint print = new(sheet.SizeMm.X, sheet.SizeMm.Y);
        using Mat mat = print.AsMat();
        const double every = MatLayout.RuledEveryMm;
        const double rim = MatLayout.RuledRimMm;
        for (double x = every; grid && x < sheet.SizeMm.X - rim; x += every)
            print.Line(mat, x, rim, x, sheet.SizeMm.Y - rim, Ruled, MatLayout.RuledMm);
        for (double y = every; grid && y < sheet.SizeMm.Y - rim; y += every)
            print.Line(mat, rim, y, sheet.SizeMm.X - rim, y, Ruled, MatLayout.RuledMm);
        foreach (SheetFiducial fiducial in sheet.Fiducials)
        {
            double quiet = fiducial.ModuleMm;
            Cv2.Rectangle(
                mat, new OpenCvSharp.Point((int)((fiducial.LeftMm - quiet) * PerMm), (int)((fiducial.TopMm - quiet) * PerMm)),
                new OpenCvSharp.Point((int)((fiducial.RightMm + quiet) * PerMm), (int)((fiducial.BottomMm + quiet) * PerMm)), Scalar.All(255), -1);
            print.Draw(fiducial);
        }

        double below = sheet.Fiducials.Max(f => f.TopMm) - 6;
        print.Line(mat, (sheet.SizeMm.X / 2) - 50, below, (sheet.SizeMm.X / 2) + 50, below, 110, 0.3);
        print.Text(mat, "darkroom mat   100 mm check line", (sheet.SizeMm.X / 2) - 34, below - 1.5, 2.6, 150);
        return print;
    }

    /// <summary>Share of the paper's light that a place returns, 0 black ink to 1 bare paper; -1 off the sheet.</summary>
    public double At(double xMm, double yMm)
    {
        if (xMm < 0 || yMm < 0 || xMm >= WidthMm || yMm >= HeightMm)
            return -1;
        double x = Math.Clamp((xMm * PerMm) - 0.5, 0, _columns - 1.001);
        double y = Math.Clamp((yMm * PerMm) - 0.5, 0, _rows - 1.001);
        int column = (int)x;
        int row = (int)y;
        double fx = x - column;
        double fy = y - row;
        int at = (row * _columns) + column;
        double top = _cells[at] + (fx * (_cells[at + 1] - _cells[at]));
        double bottom = _cells[at + _columns] + (fx * (_cells[at + _columns + 1] - _cells[at + _columns]));
        double value = (top + (fy * (bottom - top))) / 255;
        return 0.045 + (0.955 * value);
    }

    private void Draw(SheetFiducial fiducial)
    {
        Point2 origin = fiducial.CornersMm[0];
        Vector2 across = fiducial.CornersMm[1] - origin;
        Vector2 down = fiducial.CornersMm[3] - origin;
        double det = across.Cross(down);
        int modules = KnownFiducials.ModulesAcross;
        int left = (int)Math.Floor(fiducial.LeftMm * PerMm);
        int right = Math.Min((int)Math.Ceiling(fiducial.RightMm * PerMm), _columns - 1);
        int top = (int)Math.Floor(fiducial.TopMm * PerMm);
        int bottom = Math.Min((int)Math.Ceiling(fiducial.BottomMm * PerMm), _rows - 1);
        const int parts = 4;
        for (int row = top; row <= bottom; row++)
        {
            for (int column = left; column <= right; column++)
            {
                int white = 0;
                for (int part = 0; part < parts * parts; part++)
                {
                    var from = new Point2((column + (((part % parts) + 0.5) / parts)) / PerMm, (row + (((part / parts) + 0.5) / parts)) / PerMm) - origin;
                    double u = from.Cross(down) / det;
                    double v = across.Cross(from) / det;
                    bool inside = u is >= 0 and < 1 && v is >= 0 and < 1;
                    if (!inside || KnownFiducials.IsWhite(fiducial.Id, (int)(v * modules), (int)(u * modules)))
                        white++;
                }

                _cells[(row * _columns) + column] = (byte)(255 * white / (parts * parts));
            }
        }
    }

    private Mat AsMat() => Mat.FromPixelData(_rows, _columns, MatType.CV_8UC1, _cells);

    private void Line(Mat mat, double x0, double y0, double x1, double y1, byte grey, double thickMm)
    {
        const int shift = 4;
        OpenCvSharp.Point At(double x, double y) => new((int)Math.Round(((x * PerMm) - 0.5) * (1 << shift)), (int)Math.Round(((y * PerMm) - 0.5) * (1 << shift)));
        Cv2.Line(mat, At(x0, y0), At(x1, y1), Scalar.All(grey), Math.Max(1, (int)Math.Round(thickMm * PerMm)), LineTypes.AntiAlias, shift);
    }

    private void Text(Mat mat, string text, double x, double y, double heightMm, byte grey) =>
        Cv2.PutText(mat, text, new((int)(x * PerMm), (int)(y * PerMm)), HersheyFonts.HersheySimplex, heightMm * PerMm / 22, Scalar.All(grey), 2, LineTypes.AntiAlias);
}
