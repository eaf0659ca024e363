using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Visits;

namespace Whetwright.Web.Features.Counter.Papers;

/// <summary>Visits of one set that are alike and whose tags follow each other: one line on page and paper. A visit by itself is a line of one.</summary>
/// <param name="Visits">The visits; one or more.</param>
internal sealed record AlikeVisits(IReadOnlyList<Visit> Visits)
{
    /// <summary>The first.</summary>
    public Visit First => Visits[0];

    /// <summary>How many.</summary>
    public int Count => Visits.Count;

    /// <summary>Its tag, or the first and the last.</summary>
    public string Tags => Count == 1 ? TagNumber.Format(First.Tag) : $"{TagNumber.Format(First.Tag)} to {TagNumber.Format(Visits[^1].Tag)}";

    /// <summary>Slots in words; null where they have none.</summary>
    public string? Slots => First.Piece!.SetId is null || Visits.Any(v => v.Piece!.Slot is null) ? null : SetDesk.SlotsInWords(Visits.Select(v => v.Piece!.Slot!));

    /// <summary>The name, with slots: "28 × Line knives, slots 1 to 6, 8 to 29".</summary>
    public string Title => $"{(Count == 1 ? "" : $"{Count} × ")}{First.Piece!.Name}{(Slots is { } slots ? $", slot{(Count == 1 ? "" : "s")} {slots}" : "")}";

    /// <summary>Puts visits together, in the order of their tags.</summary>
    public static IReadOnlyList<AlikeVisits> Of(IEnumerable<Visit> visits, ILookup<long, Charge> charges)
    {
        List<List<Visit>> lines = [];
        foreach (Visit visit in visits.OrderBy(v => v.Tag))
        {
            if (lines.Count > 0 && lines[^1][^1] is { } before && Alike(before, visit, charges))
                lines[^1].Add(visit);
            else
                lines.Add([visit]);
        }

        return [.. lines.Select(l => new AlikeVisits(l))];
    }

    private static bool Alike(Visit a, Visit b, ILookup<long, Charge> charges) =>
        a.Piece!.SetId is { } set && set == b.Piece!.SetId && b.Tag == a.Tag + 1 && a.Piece.Name == b.Piece.Name && a.PromisedFor == b.PromisedFor
        && Plain(a) && Plain(b)
        && charges[a.Id].Select(c => (c.Text, c.AmountMinor, c.TaxMilliPercent)).SequenceEqual(charges[b.Id].Select(c => (c.Text, c.AmountMinor, c.TaxMilliPercent)));

    private static bool Plain(Visit v) => v.ComplaintAboutId is null && v.Damage is null && v.Declined is null && v.Wishes is null;
}
