using System.Globalization;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Rack.Day;

/// <summary>A piece to choose for the day.</summary>
/// <param name="Line">The piece.</param>
/// <param name="Pick">In it or not.</param>
/// <param name="By">Promised by this time.</param>
/// <param name="Weight">How much that weighs.</param>
public sealed record DayPick(RackLine Line, FlagField Pick, TextField By, ChoiceField Weight);

/// <summary>Pieces, promises, breaks, and how long to search.</summary>
public sealed class DayForm : WebForm
{
    internal DayForm(IReadOnlyList<RackLine> lines, DateOnly day)
    {
        Start = Add(new TextField("start", "Begin at") { Required = true, MaxLength = 5, Also = NotATime }).Fill("08:00");
        BreakFrom = Add(new TextField("breakFrom", "Break from") { MaxLength = 5, Also = NotATime });
        BreakTo = Add(new TextField("breakTo", "Break until") { MaxLength = 5, Also = NotATime });
        Seconds = Add(new ChoiceField("seconds", "Search for", [new("2", "2 s"), new("10", "10 s"), new("30", "30 s")]) { Required = true }).Fill("2");
        Picks =
        [
            .. lines.Select(l =>
            {
                string id = l.VisitId.ToString(CultureInfo.InvariantCulture);
                bool due = l.PromisedFor <= day;
                return new DayPick(
                    l,
                    Add(new FlagField("pick" + id, $"{TagNumber.Format(l.Tag)} {l.PieceName}")).Fill(l.PromisedFor <= day.AddDays(1)),
                    Add(new TextField("by" + id, "Promised by") { MaxLength = 5, Also = NotATime, Hint = due ? "Empty: the end of the bench day." : "Empty: not promised today." }),
                    Add(new ChoiceField("weight" + id, "Weighs", [new("1", "1"), new("3", "3"), new("10", "10")]) { Required = true }).Fill(l.PromisedFor < day ? "3" : "1"));
            }),
        ];
    }

    /// <summary>Begin.</summary>
    public TextField Start { get; }

    /// <summary>Break.</summary>
    public TextField BreakFrom { get; }

    /// <summary>Break.</summary>
    public TextField BreakTo { get; }

    /// <summary>Time limit.</summary>
    public ChoiceField Seconds { get; }

    /// <summary>Pieces.</summary>
    public IReadOnlyList<DayPick> Picks { get; }

    /// <summary>Minutes after midnight of "08:30" or "8.30"; null for anything else.</summary>
    internal static double? Minutes(string? text) =>
        text is not null && TimeOnly.TryParseExact(text.Replace('.', ':'), ["H:mm", "HH:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out TimeOnly time) ? time.ToTimeSpan().TotalMinutes : null;

    private static string? NotATime(string text) => Minutes(text) is null ? $"'{text}' is not a time; one such as 08:30 would be right" : null;

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        (double? from, double? to, double start) = (Minutes(BreakFrom.Value), Minutes(BreakTo.Value), Minutes(Start.Value)!.Value);
        if (from is null != to is null)
            (from is null ? BreakFrom : BreakTo).Refuse("is empty; a break has both ends, or none");
        else if (from is not null && !(to > from))
            BreakTo.Refuse($"'{BreakTo.Typed}' is not after {BreakFrom.Typed}; a later time would be right");
        else if (from < start)
            BreakFrom.Refuse($"'{BreakFrom.Typed}' is before the day begins; {Start.Typed} or later would be right");
        foreach (DayPick pick in Picks.Where(p => p.Pick.Value && Minutes(p.By.Value) < start))
            pick.By.Refuse($"'{pick.By.Typed}' is before the day begins; {Start.Typed} or later would be right");
        if (Picks.All(p => !p.Pick.Value))
            Refuse("no piece is chosen; one at least would be right");
    }
}
