using Whetwright.Cli.Terminal;
using Whetwright.Core.Visits;
using Whetwright.Formats;
using Whetwright.Paper.Sheets;

namespace Whetwright.Cli.Commands;

/// <summary>Writes the bench sheet. Apart from the other commands, so that the PDF library is loaded only where it is needed.</summary>
internal static class SheetFiles
{
    public static void Write(VisitPlan plan, VisitFile visit, string reference, bool inches, string pdfPath, string htmlPath)
    {
        string? invented = visit.Note is { } note && note.StartsWith("Invented", StringComparison.OrdinalIgnoreCase) ? note : null;
        BenchSheet sheet = VisitSheet.Of(plan, reference, visit.Owner, visit.Date, invented, new SheetStyle(Inches: inches));
        byte[] pdf = BenchSheetPdf.Write(sheet);
        string html = BenchSheetHtml.Write(sheet);
        AtomicFile.Write(pdfPath, pdf);
        AtomicFile.Write(htmlPath, html);
    }
}
