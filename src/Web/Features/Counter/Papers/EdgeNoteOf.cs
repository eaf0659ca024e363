using System.Globalization;
using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Sections;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Shop;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.History;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Counter.Papers;

/// <summary>An edge note out of the facts of a visit: nothing on it that is not in the book.</summary>
internal static class EdgeNoteOf
{
    /// <summary>The note of the latest visit among those of one piece, the newest first.</summary>
    public static EdgeNote Make(PieceHistory history, VisitRecord visit, ShopCard card, IReadOnlyDictionary<long, string> abrasives, string? address, DateOnly today)
    {
        TimeZoneInfo zone = card.Zone();
        DateOnly day = visit.HandBack is { } back ? ShopDays.DayOf(back.HappenedAt, zone) : today;
        Reading? found = Latest(visit, ReadingPurpose.Found), check = Latest(visit, ReadingPurpose.Check);
        AimChosen? aim = BenchVisit.Latest(visit.Aims);
        (DateOnly? again, string why) = ComeAgain(history, visit, day, zone);
        return new()
        {
            Shop = ShopPapers.Head(card),
            Number = TagNumber.Format(visit.Visit.Tag),
            Piece = history.Piece.LengthMm is { } mm && !history.Piece.Name.Contains("mm", StringComparison.Ordinal)
                ? string.Create(CultureInfo.InvariantCulture, $"{history.Piece.Name}, {(card.Units == "in" ? $"{mm / 25.4:0.0} in" : $"{mm:0} mm")}")
                : history.Piece.Name,
            Date = day,
            Owner = history.Piece.Owner?.Name,
            Section = Section(history, visit, aim, found),
            Angles = Angles(history.Piece.Kind.Reference(), found, check),
            Facts = Facts(aim, check, card),
            Done = Done(visit, aim, abrasives),
            Remarks = Remarks(visit),
            Care = Care(history.Piece.Kind),
            ComeAgain = again,
            ComeAgainWhy = why,
            Address = address,
        };
    }

    private static Reading? Latest(VisitRecord visit, ReadingPurpose purpose) =>
        BenchVisit.Latest(visit.Readings.Where(r => r.Purpose == purpose && r.Outcome != "refused"));

    private static SectionView? Section(PieceHistory history, VisitRecord visit, AimChosen? aim, Reading? found)
    {
        // Only where the choice was weighed on a section: computed again by the same function, since the book keeps its numbers and not its drawing.
        if (aim?.SectionJson is null)
            return null;
        DateTime until = aim.HappenedAt;
        Composed<Blade> blade = BladeOnBench.Compose(
            history.Piece, history.Visits.SelectMany(v => v.Outlines).Where(o => o.HappenedAt <= until), history.Visits.SelectMany(v => v.Sections).Where(s => s.HappenedAt <= until));
        if (blade is not Composed<Blade>.Ready ready)
            return null;
        double chip = BenchVisit.Latest(visit.Sections)?.ChipMm ?? BenchVisit.Latest(visit.Outlines)?.ChipMm ?? 0;
        SectionResult? cost = Candidates.Weigh(
            ready.Value, FoundAngles.Of(history.Piece.Kind.Reference(), history.Piece.Hand, found), new(aim.LeftDeg, aim.RightDeg), aim.Source, "", aim.ToleranceDeg, aim.MicroDeg, chip).Cost;
        return cost is null ? null : CoreViews.Section(cost);
    }

    private static List<NotedAngle> Angles(AngleReference reference, Reading? found, Reading? check)
    {
        List<NotedAngle> angles = [];
        if (reference != AngleReference.Back)
        {
            Put("left", r => r.LeftDeg, r => r.LeftUDeg);
            Put("right", r => r.RightDeg, r => r.RightUDeg);
        }

        Put(reference == AngleReference.Back ? "from the back" : "included", r => r.IncludedDeg, r => r.IncludedUDeg);
        return angles;

        void Put(string name, Func<Reading, double?> value, Func<Reading, double?> u)
        {
            double? before = found is null ? null : value(found), after = check is null ? null : value(check);
            if (before is not null || after is not null)
                angles.Add(new(name, before, found is null ? null : u(found), after, check is null ? null : u(check)));
        }
    }

    private static List<NotedFact> Facts(AimChosen? aim, Reading? check, ShopCard card)
    {
        List<NotedFact> facts = [];
        CultureInfo culture = CultureInfo.GetCultureInfo(card.Culture);
        if (aim is not null && check is null)
            facts.Add(new("set to, left / right", $"{aim.LeftDeg.ToString("0.0", culture)}° / {aim.RightDeg.ToString("0.0", culture)}°"));
        if (aim?.SectionJson is { } json && JsonNode.Parse(json) is JsonObject cost && cost["heightLostMm"]?.GetValue<double>() is { } lost)
            facts.Add(new("height lost, computed", card.Units == "in" ? (lost / 25.4).ToString("0.0000", culture) + " in" : lost.ToString("0.00", culture) + " mm"));
        return facts;
    }

    private static List<string> Done(VisitRecord visit, AimChosen? aim, IReadOnlyDictionary<long, string> abrasives)
    {
        List<string> done = [];
        if (visit.HandBack?.EdgeNote is { Length: > 0 } own)
            done.Add(own);
        if (aim?.ReshapeJson is not null)
            done.Add("Profile repaired");
        string[] used = [.. visit.Passes.Where(p => p.Count > 0).OrderBy(p => p.Stage).Select(p => (p.AbrasiveId is { } id ? abrasives.GetValueOrDefault(id) : null) ?? "abrasive").Distinct(StringComparer.Ordinal)];
        if (used.Length > 0)
            done.Add("Ground on " + string.Join(", then ", used));
        if (aim?.MicroDeg is { } micro)
            done.Add(string.Create(CultureInfo.InvariantCulture, $"Micro-bevel at {micro:0.#}° per side"));
        if (visit.Events.Any(e => e.Kind == BenchEventKind.Stropped))
            done.Add("Stropped or honed");
        if (visit.Events.Any(e => e.Kind == BenchEventKind.Cleaned))
            done.Add("Cleaned and oiled");
        if (BenchVisit.Latest(visit.CutTests) is { } cut)
        {
            string places = string.Join(", ", new[] { ("heel", cut.Heel), ("middle", cut.Middle), ("tip", cut.Tip) }.Where(p => p.Item2 is not null).Select(p => $"{p.Item1} {p.Item2}"));
            done.Add($"Cut test in {cut.Medium}: {places}");
        }

        if (done.Count == 0)
            done.AddRange(visit.Charges.Select(c => c.Text));
        return done;
    }

    private static List<string> Remarks(VisitRecord visit)
    {
        List<string> remarks = [];
        if (visit.Visit.Declined is { } declined)
            remarks.Add(declined);
        if (BenchVisit.Latest(visit.Sections)?.Seen is { } seen)
            remarks.Add(seen);
        if (visit.Events.LastOrDefault(e => e.Kind is BenchEventKind.BurrStays or BenchEventKind.BurrOff) is { Kind: BenchEventKind.BurrStays })
            remarks.Add("A burr did not come off whole: the steel may be soft. It will feel keen for a shorter time.");
        return remarks;
    }

    /// <summary>Care by kind: common practice, no source.</summary>
    private static string[] Care(PieceKind kind) => kind switch
    {
        PieceKind.Scissors => ["Cut only what they are made for; wipe and dry them, a drop of oil at the pivot.", "Do not open them with force, nor let them fall: the blades must touch along their whole length."],
        PieceKind.Chisel or PieceKind.PlaneIron => ["Keep the edge from metal and from the bench; oil it against rust.", "Keep the back flat: hone the bevel, and only wipe the burr off the back."],
        _ => ["Wash by hand, dry at once; not in the dishwasher, not loose in a drawer.", "Cut on wood or plastic, never on glass, stone or a plate.", "Do not scrape with the edge, nor cut bone or frozen food with it."],
    };

    /// <summary>When to come again: the median interval between its visits so far, complaints left out; with no earlier visit no day is guessed.</summary>
    private static (DateOnly? Day, string Why) ComeAgain(PieceHistory history, VisitRecord visit, DateOnly day, TimeZoneInfo zone)
    {
        DateOnly[] came = [.. history.Visits.Where(v => v.Visit.ComplaintAboutId is null && v.Visit.HappenedAt <= visit.Visit.HappenedAt).Select(v => ShopDays.DayOf(v.Visit.HappenedAt, zone)).Order()];
        int[] gaps = [.. came.Zip(came.Skip(1), (a, b) => b.DayNumber - a.DayNumber).Where(g => g > 0).Order()];
        if (gaps.Length == 0)
            return (null, "when it slides on a tomato's skin instead of biting");
        int median = (gaps[(gaps.Length - 1) / 2] + gaps[gaps.Length / 2]) / 2;
        return (day.AddDays(median), gaps.Length == 1 ? $"as long as last time, {median} days" : $"the middle of its last {gaps.Length} intervals, {median} days; sooner if it slides");
    }
}
