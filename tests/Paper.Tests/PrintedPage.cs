using System.Diagnostics;
using System.Globalization;

namespace Whetwright.Paper.Tests;

/// <summary>A PDF seen through poppler's tools, as a printer would; tests that need it are skipped, visibly, where it is absent.</summary>
internal sealed class PrintedPage : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("whetwright-paper-").FullName;

    internal PrintedPage(byte[] pdf)
    {
        Assert.SkipUnless(Present, "pdftoppm (poppler-utils) is not installed.");
        File.WriteAllBytes(Path.Combine(folder, "page.pdf"), pdf);
    }

    internal static bool Present { get; } = Array.Exists(
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator),
        p => File.Exists(Path.Combine(p, "pdftoppm")));

    internal string Info() => Run("pdfinfo", "-box page.pdf");

    internal string Fonts() => Run("pdffonts", "page.pdf");

    internal string Text() => Run("pdftotext", "-layout page.pdf -");

    internal GrayRaster Raster(int dpi, int page = 1)
    {
        Run("pdftoppm", string.Create(CultureInfo.InvariantCulture, $"-r {dpi} -gray -f {page} -l {page} -singlefile page.pdf out"));
        return GrayRaster.FromPgm(File.ReadAllBytes(Path.Combine(folder, "out.pgm")), dpi);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string Run(string program, string arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments) { WorkingDirectory = folder, RedirectStandardOutput = true, UseShellExecute = false })!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
        return output;
    }
}

/// <summary>A grey raster; 0 is black. Places in mm from the top left.</summary>
internal sealed record GrayRaster(int Width, int Height, byte[] Pixels, double PixelsPerMm)
{
    internal static GrayRaster FromPgm(byte[] file, int dpi)
    {
        int at = 0;
        string Token()
        {
            while (char.IsWhiteSpace((char)file[at]))
                at++;
            int from = at;
            while (!char.IsWhiteSpace((char)file[at]))
                at++;
            return System.Text.Encoding.ASCII.GetString(file, from, at - from);
        }

        Assert.Equal("P5", Token());
        int width = int.Parse(Token(), CultureInfo.InvariantCulture);
        int height = int.Parse(Token(), CultureInfo.InvariantCulture);
        Assert.Equal("255", Token());
        at++;
        return new(width, height, file[at..(at + (width * height))], dpi / 25.4);
    }

    internal byte At(int x, int y) => Pixels[(y * Width) + x];

    internal byte AtMm(double xMm, double yMm) => At((int)(xMm * PixelsPerMm), (int)(yMm * PixelsPerMm));

    /// <summary>Middle of the darkness along a row of pixels, in mm, weighted by how dark: the place of a thin upright tick.</summary>
    internal double DarkMiddleAcrossMm(double yMm, double fromMm, double toMm) => DarkMiddle(fromMm, toMm, i => At(i, (int)(yMm * PixelsPerMm)));

    /// <summary>The same down a column.</summary>
    internal double DarkMiddleDownMm(double xMm, double fromMm, double toMm) => DarkMiddle(fromMm, toMm, i => At((int)(xMm * PixelsPerMm), i));

    /// <summary>Left, top, right and bottom of what is darker than mid-grey in a part of the page, mm.</summary>
    internal (double Left, double Top, double Right, double Bottom) DarkBoxMm(double fromXMm, double fromYMm, double toXMm, double toYMm)
    {
        (int left, int top, int right, int bottom) = (int.MaxValue, int.MaxValue, -1, -1);
        for (int y = (int)(fromYMm * PixelsPerMm); y < Math.Min(Height, toYMm * PixelsPerMm); y++)
        {
            for (int x = (int)(fromXMm * PixelsPerMm); x < Math.Min(Width, toXMm * PixelsPerMm); x++)
            {
                if (At(x, y) < 128)
                    (left, top, right, bottom) = (Math.Min(left, x), Math.Min(top, y), Math.Max(right, x), Math.Max(bottom, y));
            }
        }

        Assert.True(right >= 0, "Nothing is printed there.");
        return (left / PixelsPerMm, top / PixelsPerMm, (right + 1) / PixelsPerMm, (bottom + 1) / PixelsPerMm);
    }

    private double DarkMiddle(double fromMm, double toMm, Func<int, byte> pixel)
    {
        double weight = 0;
        double moment = 0;
        for (int i = (int)(fromMm * PixelsPerMm); i <= (int)(toMm * PixelsPerMm); i++)
        {
            double dark = 255 - pixel(i);
            weight += dark;
            moment += dark * (i + 0.5);
        }

        Assert.True(weight > 100, "No tick was printed there.");
        return moment / weight / PixelsPerMm;
    }
}
