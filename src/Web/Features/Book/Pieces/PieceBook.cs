using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Sheets;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.History;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Web.Features.Book.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Book.Pieces;

/// <summary>One visit as a piece's page shows it.</summary>
/// <param name="Record">The visit.</param>
/// <param name="Found">The edge it came with; null where it was not read.</param>
/// <param name="Aim">The edge wanted.</param>
/// <param name="Check">The edge it left with.</param>
/// <param name="HeightMm">Height measured.</param>
/// <param name="Corrections">What was corrected.</param>
public sealed record PieceVisit(VisitRecord Record, Reading? Found, AimChosen? Aim, Reading? Check, double? HeightMm, IReadOnlyList<Correction> Corrections);

/// <summary>A piece's page.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Visits">The visits of this page of the list.</param>
/// <param name="History">Angles and height over the visits; null where nothing was measured.</param>
/// <param name="Outlines">The oldest and the newest outline on each other; null where there are no two.</param>
/// <param name="OutlineCaption">What the picture shows, or why there is none.</param>
/// <param name="Photos">Photos of the whole piece and of its edge, the latest visit first.</param>
/// <param name="Count">How many visits in all.</param>
/// <param name="Number">Number of the page, from 1.</param>
/// <param name="Pages">How many pages.</param>
public sealed record PieceModel(
    Piece Piece, IReadOnlyList<PieceVisit> Visits, Drawing? History, Drawing? Outlines, string? OutlineCaption, IReadOnlyList<Photo> Photos, int Count, int Number, int Pages)
{
    /// <summary>What is known of the steel: the latest of all visits; null for nothing.</summary>
    public SteelNoted? Steel { get; init; }

    /// <summary>Visits on one page.</summary>
    public const int PerPage = 20;

    /// <summary>Photos on one page.</summary>
    public const int MostPhotos = 12;
}

/// <summary>Shows a piece with all its visits.</summary>
internal static class PieceBook
{
    public static async Task<IResult> ShowAsync(long id, int? page, BookQuery book, UnitsView units, ViewPreferences view, CancellationToken cancel)
    {
        if (await book.PieceAsync(id, cancel) is not { } history)
            return None(id);
        int pages = Math.Max(1, (history.Visits.Count + PieceModel.PerPage - 1) / PieceModel.PerPage);
        int number = Math.Clamp(page ?? 1, 1, pages);
        VisitRecord[] shown = [.. history.Visits.Skip((number - 1) * PieceModel.PerPage).Take(PieceModel.PerPage)];
        ILookup<long, Correction> corrections = (await book.CorrectionsAsync([.. shown.Select(v => v.Visit.Id)], cancel)).ToLookup(c => c.Now.VisitId);
        SheetStyle style = new(units.Unit == LengthUnit.Inch, units.Culture.NumberFormat.NumberDecimalSeparator == ",", view.Hand == WorkHand.Left);
        (Drawing? outlines, string? caption) = Outlines(history.Visits, style, units);
        PieceModel model = new(
            history.Piece, [.. shown.Select(v => Of(v, corrections[v.Visit.Id]))], History(history, style, units), outlines, caption,
            [.. history.Visits.SelectMany(v => v.Photos).Where(p => p.Subject is not PhotoSubject.Marks).Take(PieceModel.MostPhotos)], history.Visits.Count, number, pages)
        {
            Steel = BenchVisit.Latest(history.Visits.SelectMany(v => v.Steels)),
        };
        return Page.Of<PiecePage>(history.Piece.Name, model, Room.Book);
    }

    internal static IResult None(long id) => Page.NotFound(FormattableString.Invariant($"There is no piece {id} in the book."));

    private static PieceVisit Of(VisitRecord v, IEnumerable<Correction> corrections) =>
        new(v, Last(v, ReadingPurpose.Found), BenchVisit.Latest(v.Aims), Last(v, ReadingPurpose.Check), Height(v)?.Mm, [.. corrections]);

    private static Reading? Last(VisitRecord v, ReadingPurpose purpose) => BenchVisit.Latest(v.Readings.Where(r => r.Purpose == purpose));

    /// <summary>The height of a visit, the newest measured; from a traced outline with its doubt.</summary>
    private static (double Mm, double? UMm)? Height(VisitRecord v)
    {
        OutlineTaken? outline = BenchVisit.Latest(v.Outlines.Where(o => o.HeightMm is not null));
        SectionMeasured? section = BenchVisit.Latest(v.Sections.Where(s => s.HeightMm is not null));
        if (outline is not null && (section is null || outline.HappenedAt >= section.HappenedAt))
            return (outline.HeightMm!.Value, OutlineDoubt.HeightUMm(outline));
        return section is null ? null : (section.HeightMm!.Value, null);
    }

    private static Drawing? History(PieceHistory history, SheetStyle style, UnitsView units)
    {
        AngleReference reference = history.Piece.Kind.Reference();
        HistoryVisit[] visits =
        [
            .. history.Visits.Select(v =>
            {
                // The edge it left with; where that was not read, the edge it came with.
                Reading? reading = Last(v, ReadingPurpose.Check) is { Outcome: not "refused" } check ? check : Last(v, ReadingPurpose.Found);
                SidePair? angles = FoundAngles.Of(reference, history.Piece.Hand, reading);
                bool both = reference != AngleReference.Back && reading is { LeftDeg: not null, RightDeg: not null };
                double? u = reading?.IncludedUDeg is { } included ? (reference == AngleReference.Back ? included : included / 2) : null;
                (double Mm, double? UMm)? height = Height(v);
                return new HistoryVisit(
                    units.LocalDay(v.Visit.HappenedAt), Ground(angles?.LeftDeg), both ? reading!.LeftUDeg : u, Ground(angles?.RightDeg), both ? reading!.RightUDeg : u, height?.Mm, height?.UMm);
            }),
        ];
        return visits.Any(v => v.LeftDeg is not null || v.RightDeg is not null || v.HeightMm is not null)
            ? HistoryPicture.Draw(visits, style, units.Culture)
            : null;
    }

    /// <summary>A back has no angle to plot.</summary>
    private static double? Ground(double? deg) => deg is > 0 ? deg : null;

    private static (Drawing? Picture, string? Caption) Outlines(IReadOnlyList<VisitRecord> visits, SheetStyle style, UnitsView units)
    {
        OutlineTaken[] traced = [.. visits.SelectMany(v => v.Outlines).Where(o => o.ResultJson is not null).OrderBy(o => o.HappenedAt).ThenBy(o => o.Id)];
        if (traced.Length < 2)
            return (null, null);
        if (OutlineWear.Between(traced[0], traced[^1], out Reason? why) is not { } wear)
            return (null, why?.Text);
        Drawing drawing = OutlinePicture.Draw(
            new OutlineView
            {
                EarlierMm = wear.EarlierMm,
                LaterMm = wear.LaterMm,
                LostMm = wear.LostMm,
                LostUMm = wear.LostUMm,
                Earlier = units.Date(units.LocalDay(traced[0].HappenedAt)),
                Later = units.Date(units.LocalDay(traced[^1].HappenedAt)),
            },
            style);
        return (drawing, $"The oldest and the newest outline, laid on each other by spine and handle, which fit to {units.Length(wear.FitMm)}; that is counted into the doubt of the height lost.");
    }
}
