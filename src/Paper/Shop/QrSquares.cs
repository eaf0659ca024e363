using System.Collections;
using QRCoder;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Shop;

/// <summary>A QR code ([iso18004]) as one vector area of squares with its quiet zone of four modules. The encoder gives the modules; the drawing is ours.</summary>
internal static class QrSquares
{
    /// <summary>Smallest module a phone's camera still reads off paper, mm (common practice, no source).</summary>
    internal const double LeastModuleMm = 0.33;

    /// <summary>Draws the code into a square, quiet zone included.</summary>
    /// <exception cref="ArgumentException">The text is too long for a code of that size.</exception>
    internal static void Draw(Drawing drawing, string text, double xMm, double yMm, double sideMm)
    {
        List<BitArray> modules = Modules(text, sideMm);
        double module = sideMm / modules.Count;
        drawing.Rectangle(xMm, yMm, sideMm, sideMm, null, Ink.Paper);
        List<IReadOnlyList<Point2>> runs = [];
        for (int row = 0; row < modules.Count; row++)
        {
            for (int from = 0; from < modules.Count; from++)
            {
                if (!modules[row][from])
                    continue;
                int to = from;
                while (to < modules.Count && modules[row][to])
                    to++;
                (double left, double right) = (xMm + (from * module), xMm + (to * module));
                (double top, double bottom) = (yMm + (row * module), yMm + ((row + 1) * module));
                runs.Add([new(left, top), new(right, top), new(right, bottom), new(left, bottom)]);
                from = to;
            }
        }

        drawing.Area(runs, Ink.Main);
    }

    // Error correction M where its modules are large enough to read, else L.
    private static List<BitArray> Modules(string text, double sideMm)
    {
        foreach (QRCodeGenerator.ECCLevel level in (QRCodeGenerator.ECCLevel[])[QRCodeGenerator.ECCLevel.M, QRCodeGenerator.ECCLevel.L])
        {
            using QRCodeData code = QRCodeGenerator.GenerateQrCode(text, level);
            if (sideMm / code.ModuleMatrix.Count >= LeastModuleMm)
                return [.. code.ModuleMatrix];
        }

        throw new ArgumentException(FormattableString.Invariant(
            $"The address \"{text}\" is too long for a code of {sideMm:0.#} mm: its squares would be under {LeastModuleMm} mm. Use a shorter base address or a larger label."), nameof(text));
    }
}
