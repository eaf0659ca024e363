using System.Diagnostics;

namespace Whetwright.Web.Tests.Harness;

/// <summary>The words of a PDF as poppler reads them; the test is skipped, visibly, where its tools are absent.</summary>
internal static class PdfWords
{
    private static readonly bool Present = Array.Exists((Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator), p => File.Exists(Path.Combine(p, "pdftotext")));

    /// <summary>Of a paper that the shop serves.</summary>
    public static async Task<string> OfAsync(RunningShop shop, string path)
    {
        Assert.SkipUnless(Present, "pdftotext (poppler-utils) is not installed.");
        using HttpClient client = shop.Client();
        byte[] pdf = await client.GetByteArrayAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        string file = Path.Combine(Directory.CreateDirectory(Path.Combine(Repository.Screens, "pdf")).FullName, $"{Guid.NewGuid():N}.pdf");
        await File.WriteAllBytesAsync(file, pdf, TestContext.Current.CancellationToken);
        try
        {
            using Process process = Process.Start(new ProcessStartInfo("pdftotext", ["-layout", file, "-"]) { RedirectStandardOutput = true, UseShellExecute = false })!;
            string words = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            await process.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.Equal(0, process.ExitCode);
            return words.Replace('\u00a0', ' ').Replace('\u202f', ' ');
        }
        finally
        {
            File.Delete(file);
        }
    }
}
