namespace Whetwright.Sight.Outlines;

/// <summary>How well a piece of the book answers to an outline.</summary>
/// <param name="Id">The piece's own name in the book.</param>
/// <param name="DistanceMm">A root mean square of spine misfit, uneven loss and gain of height: 0 for the same blade.</param>
/// <param name="MeanLostMm">Height that it would have lost since.</param>
/// <param name="Probability">Odds among all pieces and the piece that is not in the book.</param>
public sealed record PieceMatch(string Id, double DistanceMm, double MeanLostMm, double Probability);

/// <summary>
/// Recognises a piece by its outline: for each piece of the book the outlines are laid on each other by the spine; a spine that differs, height
/// that was gained, and height lost unevenly speak against it. Odds by Gaussian misfits with spreads of our own choosing, against a stranger.
/// </summary>
public static class OutlineBook
{
    private const double SpineSdMm = 0.4;
    private const double UnevenSdMm = 0.6;
    private const double GainSdMm = 0.3;
    private const double LengthSdMm = 1.5;
    private const double TypicalLossMm = 1.5;

    /// <summary>Log-likelihood of a stranger: as good as a match two and a half spreads off in all four. Chosen, not derived.</summary>
    private const double Stranger = -0.5 * 4 * 2.5 * 2.5;

    /// <summary>Pieces by how well they answer, best first; the probabilities and that of a stranger make one.</summary>
    public static (IReadOnlyList<PieceMatch> Matches, double StrangerProbability) Recognise(OutlineShape seen, IReadOnlyDictionary<string, OutlineShape> book)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentNullException.ThrowIfNull(book);
        var judged = book.Select(piece => Judge(piece.Key, piece.Value, seen)).ToList();
        double top = Math.Max(Stranger, judged.Count == 0 ? Stranger : judged.Max(j => j.Log));
        double total = Math.Exp(Stranger - top) + judged.Sum(j => Math.Exp(j.Log - top));
        var matches = judged
            .OrderByDescending(j => j.Log)
            .ThenBy(j => j.Id, StringComparer.Ordinal)
            .Select(j => new PieceMatch(j.Id, j.Distance, j.Lost, Math.Exp(j.Log - top) / total))
            .ToList();
        return (matches, Math.Exp(Stranger - top) / total);
    }

    private static (string Id, double Log, double Distance, double Lost) Judge(string id, OutlineShape earlier, OutlineShape seen)
    {
        // A blade grows shorter by a few millimetres at most; another length needs no overlay.
        double shorter = earlier.LengthMm - seen.LengthMm;
        if (shorter is < -6 or > 15)
            return (id, -0.5 * Math.Pow(shorter / LengthSdMm, 2), Math.Abs(shorter), 0);
        OutlineOverlay overlay = OutlineOverlay.Of(earlier, seen);
        if (overlay.Lost.Count < 5)
            return (id, 10 * Stranger, 99, 0);
        double mean = overlay.MeanLostMm;
        double uneven = Math.Sqrt(overlay.Lost.Average(l => Math.Pow(l.LostMm - mean, 2)));
        double gain = Math.Max(0, -mean);
        double longer = Math.Max(0, -shorter);
        double muchShorter = Math.Max(0, shorter - 3);
        double log = -0.5 * (Square(overlay.SpineMisfitMm / SpineSdMm) + Square(uneven / UnevenSdMm) + Square(gain / GainSdMm)
            + Square((longer + muchShorter) / LengthSdMm)) - (Math.Max(0, mean) / TypicalLossMm);
        return (id, log, Math.Sqrt(Square(overlay.SpineMisfitMm) + Square(uneven) + Square(gain)), mean);
    }

    private static double Square(double v) => v * v;
}
