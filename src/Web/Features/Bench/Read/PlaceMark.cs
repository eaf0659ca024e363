using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>One mark, large, to be put right by a finger.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Step">Read or Check.</param>
/// <param name="Reading">The reading that stands.</param>
/// <param name="MountIndex">Which placing.</param>
/// <param name="Mark">The mark; null for one to be added.</param>
/// <param name="Fault">What was wrong with what was sent; null for nothing.</param>
public sealed record PlaceScreen(BenchVisit Visit, BenchStep Step, ShownReading Reading, int MountIndex, MarkInPhoto? Mark, string? Fault = null) : BenchScreen(Visit, Step)
{
    // A mark and its surroundings, low enough that picture and number fit a phone together: chosen, not derived.
    private const double HalfMm = 14;
    private const double HalfTallMm = 9.5;

    /// <summary>The placing.</summary>
    public MountInPhoto Mount => Reading.Photos!.Mounts[MountIndex];

    /// <summary>What is shown of the photo.</summary>
    public PhotoCut Cut => (Mark is { } mark ? PhotoCut.About(Mount, mark.PhotoPx, HalfMm, HalfTallMm) : PhotoCut.Of(Mount))!;

    /// <summary>Where forms are sent.</summary>
    public string Action => Mark is { } mark ? string.Create(CultureInfo.InvariantCulture, $"{Here}/mark/{mark.Number}") : string.Create(CultureInfo.InvariantCulture, $"{Here}/mark/new?mount={MountIndex}");

    /// <summary>The bevel that the mark says, degrees; null where it stands for nothing.</summary>
    public double? Deg => Mark is not { Role: { } role } mark ? null : mark.Seen?.Deg ?? Mount.Frame?.Pointed(0, Mount.Tip, mark.Target, role, mark.PhotoPx).AsRead.Degrees;
}

/// <summary>Moves, names, adds and leaves out marks: each a new reading that names the one it corrects.</summary>
internal static class PlaceMark
{
    public static Task<IResult> ShowAsync(string tag, string mark, int? mount, ReadingPurpose purpose, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, visit => Screen(visit, purpose, mark, mount) is { } screen ? Of(screen) : NoMark(mark), cancel);

    public static Task<IResult> SaveAsync(string tag, string mark, int? mount, ReadingPurpose purpose, HttpContext http, BenchVisitQuery visits, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            if (Screen(visit, purpose, mark, mount) is not { } screen)
                return NoMark(mark);
            BareForm form = new();
            await form.ReadAsync(http);
            IFormCollection sent = await http.Request.ReadFormAsync(cancel);
            MarksInPhotos before = screen.Reading.Photos!, after;
            try
            {
                after = Changed(before, screen, sent);
            }
            catch (Exception e) when (e is ArgumentException or FormatException)
            {
                return Of(screen with { Fault = e is ArgumentException argument ? Faults.Plain(argument) : e.Message }, StatusCodes.Status422UnprocessableEntity);
            }

            int number = screen.Mark?.Number ?? after.Mounts[screen.MountIndex].Marks[^1].Number;
            DateTime now = desk.Now();
            Reading corrected = screen.Reading.Fact;
            CombinedReading reading = after.Combine();
            Reading fact = EyeReading.ToFact(reading, after.ToJson(), after.Method, new(visit.Visit.Id, purpose, corrected.MountIds, now, now, corrected.Id));
            bool stays = sent["what"].ToString() is "nudge" or "move" || sent.ContainsKey("tap.x") || screen.Mark is null;
            string leadsTo = stays ? string.Create(CultureInfo.InvariantCulture, $"{screen.Here}/mark/{number}") : screen.Here;
            Submitted<Reading> saved = await desk.AddAsync(form, fact, leadsTo, cancel: cancel);
            if (saved is Submitted<Reading>.Conflict other)
            {
                string theirs = Words(other.Theirs.IncludedDeg, other.Theirs.IncludedUDeg, units), mine = Words(reading.Included?.Value.Degrees, reading.Included?.StandardUncertainty.Degrees, units);
                BenchVisit fresh = await visits.ByTagAsync(visit.Visit.Tag, cancel) ?? visit;
                return Of((Screen(fresh, purpose, mark, mount) ?? screen) with { Fault = $"Somebody changed this reading meanwhile. It says {theirs} now; yours would say {mine}. Below is how it stands: place the mark again to keep yours." }, StatusCodes.Status409Conflict);
            }

            return BenchDesk.Answer(saved, form, $"Mark {number}: {(reading.Included is { } included ? $"included {units.Angle(included, 2)}" : "no included angle now")}.")
                ?? Of(screen with { Fault = string.Join(" ", form.Errors) }, StatusCodes.Status422UnprocessableEntity);
        }, cancel);

    private static MarksInPhotos Changed(MarksInPhotos marks, PlaceScreen screen, IFormCollection sent)
    {
        string what = sent["what"].ToString();
        // A tap on the picture (an image button) comes as tap.x, tap.y in the pixels it was shown at.
        Point2? place = sent.ContainsKey("tap.x")
            ? new(screen.Cut.X + (Number(sent, "tap.x") * screen.Cut.Width / Number(sent, "shown")), screen.Cut.Y + (Number(sent, "tap.y") * screen.Cut.Width / Number(sent, "shown")))
            : what == "move" ? new(Number(sent, "x"), Number(sent, "y")) : null;
        if (screen.Mark is not { } mark)
            return marks.Added(screen.MountIndex, place ?? throw new FormatException("No place was told: tap where the mark is."), MarkRole.Edge);
        if (place is { } put)
            return marks.Moved(mark.Number, put);
        switch (what)
        {
            case "nudge" when screen.Mount.Frame is { } frame:
                Point2 at = frame.FromZeroMm(mark.PhotoPx);
                string[] by = sent["by"].ToString().Split(';');
                return marks.Moved(mark.Number, frame.InPhotoPx(new(at.X + Plain(by, 0), at.Y + Plain(by, 1))));
            case "edge":
                return marks.Named(mark.Number, MarkRole.Edge);
            case "primary":
                return marks.Named(mark.Number, MarkRole.Primary);
            case "micro":
                return marks.Named(mark.Number, MarkRole.Micro);
            case "out":
                return marks.LeftOut(mark.Number);
            default:
                throw new FormatException($"'{what}' cannot be done to a mark; move it, name it, or leave it out.");
        }
    }

    private static double Plain(string[] parts, int i) =>
        i < parts.Length && double.TryParse(parts[i], NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && Math.Abs(value) <= 50
            ? value
            : throw new FormatException("The step is not known; use one of the buttons.");

    private static double Number(IFormCollection sent, string name) =>
        double.TryParse(sent[name].ToString(), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)
            ? value
            : throw new FormatException($"The place '{sent[name]}' is no number; put the mark where the light is.");

    private static PlaceScreen? Screen(BenchVisit visit, ReadingPurpose purpose, string mark, int? mount)
    {
        if (ShownReading.Of(visit, purpose) is not { Photos: { } marks } reading)
            return null;
        if (mark == "new")
            return mount is { } of && of >= 0 && of < marks.Mounts.Count && marks.Mounts[of].Frame is not null ? new(visit, purpose.Step(), reading, of, null) : null;
        return int.TryParse(mark, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && marks.Find(number) is { } found && marks.Mounts[found.Mount].Frame is not null
            ? new(visit, purpose.Step(), reading, found.Mount, found.Mark)
            : null;
    }

    private static string Words(double? included, double? u, UnitsView units) =>
        included is { } deg ? $"{units.Angle(deg, 2)} ± {units.Angle(2 * (u ?? 0), 2)} included" : "no included angle";

    private static IResult NoMark(string mark) => Page.NotFound($"There is no mark '{mark}' in the photos of this reading; it may have been read again meanwhile.");

    private static IResult Of(PlaceScreen screen, int status = StatusCodes.Status200OK) => Page.Of<PlacePage>(screen.Title, screen, Room.Bench, status);
}
