using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Abrasives;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Abrasives;

/// <summary>An abrasive or strop as it is marked.</summary>
public sealed class AbrasiveForm : WebForm
{
    internal AbrasiveForm(UnitsView units, AbrasiveKept? kept = null, int nextOrder = 1)
    {
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 60, Hint = "As you call it: coarse wheel, leather with paste." });
        Form = Add(new ChoiceField("form", "What it is", [.. Enum.GetValues<Records.Kit.AbrasiveForm>().Select(f => new Choice(f.ToString(), Words(f)))]) { Required = true });
        System = Add(new ChoiceField("system", "Graded by", [.. Grades.Keys.Select(k => new Choice(k, SystemWords(k)))]) { List = true, Hint = "It stands beside the number, or with the maker." });
        Grade = Add(new TextField("grade", "Grade as marked") { MaxLength = 20, Hint = "1000, #400, P240, F220; in micrometres the number." });
        D50 = Add(new NumberField("d50Um", "Median grain, where no grade is known") { Unit = "µm", Min = 0.01, Max = 5999, Hint = "A grade fills it by itself." });
        Area = Add(new NumberField("areaPerPassMm2", "Takes off per pass and side") { Unit = "mm²", Min = 0.00001, Max = 10, Hint = "A guess, labelled as one, until your own log replaces it. Left empty: not planned with." });
        Change = Add(new NumberField("changeMinutes", "To change to it") { Unit = "min", Min = 0, Max = 240 });
        Order = Add(new NumberField("order", "Place in the order of use, coarse first") { Min = 0, Max = 999, Whole = true, Required = true });
        Retired = Add(new FlagField("retired", "No longer in use"));
        Order.Fill(kept?.Order ?? nextOrder, units);
        if (kept is null)
            return;
        Name.Fill(kept.Name);
        Form.Fill(kept.Form.ToString());
        System.Fill(kept.System);
        Grade.Fill(kept.Grade);
        D50.Fill(kept.System is null ? kept.D50Um : null, units);
        Area.Fill(kept.AreaPerPassMm2, units);
        Change.Fill(kept.ChangeMinutes, units);
        Retired.Fill(kept.Retired);
        VersionSeen = KitAnswer.Version(kept.Version);
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Form.</summary>
    public ChoiceField Form { get; }

    /// <summary>Grade system.</summary>
    public ChoiceField System { get; }

    /// <summary>Grade.</summary>
    public TextField Grade { get; }

    /// <summary>Median grain where no grade is known.</summary>
    public NumberField D50 { get; }

    /// <summary>Area per pass.</summary>
    public NumberField Area { get; }

    /// <summary>Minutes to change.</summary>
    public NumberField Change { get; }

    /// <summary>Order.</summary>
    public NumberField Order { get; }

    /// <summary>No longer used.</summary>
    public FlagField Retired { get; }

    /// <summary>The grade of the table; null where none is typed or it is not there.</summary>
    internal Grade? Found => System.Value is { } key && Grade.Value is { } marked && Grades.SystemFromKey(key) is { } system ? Grades.Find(system, marked) : null;

    internal AbrasiveTyped Typed() => new()
    {
        Name = Name.Value,
        Form = Enum.Parse<Records.Kit.AbrasiveForm>(Form.Value!),
        System = Found is null ? null : System.Value,
        Grade = Grade.Value,
        D50Um = Found?.D50Um ?? D50.Value,
        AreaPerPassMm2 = Area.Value,
        ChangeMinutes = Change.Value,
        Order = (int)Order.Value!.Value,
        Retired = Retired.Value,
    };

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (System.Value is not { } key || Grades.SystemFromKey(key) is not { } system)
        {
            if (Grade.Value is not null && D50.Value is null)
                System.Refuse($"is not chosen beside the grade '{Grade.Typed}'; who graded it would be right, or the grain in µm alone");
            return;
        }

        if (Grade.Value is null)
            Grade.Refuse("is empty beside the system; the grade as marked would be right");
        else if (Found is null)
            Grade.Refuse($"'{Grade.Typed}' is no grade of {SystemWords(key)}; {Nearby(system)} would be right");
    }

    private static string Nearby(GradeSystem system) => system == GradeSystem.Micrometres
        ? "a number of micrometres such as 3"
        : "one of " + string.Join(", ", Grades.Of(system).Select(g => g.Name).Take(40));

    /// <summary>A form in words.</summary>
    internal static string Words(Records.Kit.AbrasiveForm form) => form == Records.Kit.AbrasiveForm.HoningWheel ? "Honing wheel" : form.ToString();

    /// <summary>A system in words.</summary>
    internal static string SystemWords(string? key) => key switch
    {
        "fepa-f" => "FEPA F (wheels, stones)",
        "fepa-p" => "FEPA P (belts, papers)",
        "jis" => "JIS",
        "cami" => "CAMI",
        "um" => "micrometres",
        _ => "",
    };
}

/// <summary>An abrasive on the list.</summary>
/// <param name="Kept">The abrasive.</param>
/// <param name="Same">What other systems call about the same grain.</param>
public sealed record AbrasiveLine(AbrasiveKept Kept, string Same);

/// <summary>A grain that is looked for among those owned.</summary>
/// <param name="Typed">As typed.</param>
/// <param name="System">System.</param>
/// <param name="Error">What is wrong with it.</param>
/// <param name="D50Um">Its grain.</param>
/// <param name="Closest">The closest owned.</param>
/// <param name="Ratio">How much coarser (above 1) or finer that is.</param>
public sealed record ClosestSought(string? Typed, string? System, string? Error, double? D50Um, AbrasiveKept? Closest, double? Ratio);

/// <summary>The abrasives.</summary>
/// <param name="Lines">The list.</param>
/// <param name="Sought">What is looked for.</param>
public sealed record AbrasivesModel(IReadOnlyList<AbrasiveLine> Lines, ClosestSought Sought);

/// <summary>The form of one.</summary>
/// <param name="Form">The form.</param>
/// <param name="Id">Key; null for a new one.</param>
/// <param name="Grade">The grade found.</param>
/// <param name="Closest">The closest that the shop owns already, in words.</param>
public sealed record AbrasiveModel(AbrasiveForm Form, long? Id, Grade? Grade, string? Closest);

/// <summary>Abrasives and strops by grade.</summary>
internal static class AbrasiveShelf
{
    public static async Task<IResult> ListAsync(KitQuery kit, string? grade, string? system, CancellationToken cancel)
    {
        IReadOnlyList<AbrasiveKept> owned = await kit.AbrasivesAsync(cancel);
        return Page.Of<AbrasivesPage>("Abrasives", new AbrasivesModel([.. owned.Select(a => new AbrasiveLine(a, Same(a)))], Seek(owned, grade?.Trim(), system)), Room.Kit);
    }

    public static async Task<IResult> NewAsync(KitQuery kit, UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<AbrasiveKept> owned = await kit.AbrasivesAsync(cancel);
        return Of(new AbrasiveForm(units, null, owned.Count == 0 ? 1 : owned.Max(a => a.Order) + 1), null, owned);
    }

    public static async Task<IResult> AddAsync(HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<AbrasiveKept> owned = await kit.AbrasivesAsync(cancel);
        AbrasiveForm form = new(units);
        if (!await form.ReadAsync(http))
            return Of(form, null, owned);
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => desk.AddAbrasiveAsync(db, form.Typed(), cancel), _ => "/kit/abrasives", cancel), form, $"{form.Name.Value} added.") ?? Of(form, null, owned);
    }

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<AbrasiveKept> owned = await kit.AbrasivesAsync(cancel);
        return owned.FirstOrDefault(a => a.Id == id) is { } kept ? Of(new AbrasiveForm(units, kept), id, owned) : Page.NotFound("There is no such abrasive in the kit.");
    }

    public static async Task<IResult> SaveAsync(long id, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, CancellationToken cancel)
    {
        IReadOnlyList<AbrasiveKept> owned = await kit.AbrasivesAsync(cancel);
        AbrasiveForm form = new(units);
        if (!await form.ReadAsync(http))
            return Of(form, id, owned);
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.EditAbrasiveAsync(db, id, form.SeenVersion, form.Typed(), cancel), _ => "/kit/abrasives", cancel),
            form, "Saved.", theirs => (new AbrasiveForm(units, theirs), theirs.Version)) ?? Of(form, id, owned);
    }

    private static IResult Of(AbrasiveForm form, long? id, IReadOnlyList<AbrasiveKept> owned)
    {
        Grade? grade = form.Found;
        AbrasiveKept[] others = [.. owned.Where(a => a.Id != id && !a.Retired && a.D50Um is not null)];
        int nearest = grade is null ? -1 : Grades.NearestOf([.. others.Select(a => a.D50Um!.Value)], grade.D50Um);
        string? closest = nearest < 0 ? null : $"The closest you own is {others[nearest].Name}, {Um(others[nearest].D50Um!.Value)}.";
        return Page.Of<AbrasivePage>(id is null ? "A new abrasive" : form.Name.Typed, new AbrasiveModel(form, id, grade, closest), Room.Kit, form.Status);
    }

    private static ClosestSought Seek(IReadOnlyList<AbrasiveKept> owned, string? marked, string? system)
    {
        if (string.IsNullOrEmpty(marked))
            return new(null, system, null, null, null, null);
        if (Grades.SystemFromKey(system ?? "") is not { } by)
            return new(marked, system, "Say who graded it: the same number is another grain in another system.", null, null, null);
        if (Grades.Find(by, marked) is not { } grade)
            return new(marked, system, $"'{marked}' is no grade of {AbrasiveForm.SystemWords(system)}; a grade such as {Grades.Of(by).ElementAtOrDefault(Grades.Of(by).Count / 2)?.Name ?? "3"} would be right.", null, null, null);
        AbrasiveKept[] known = [.. owned.Where(a => !a.Retired && a.D50Um is not null)];
        int at = Grades.NearestOf([.. known.Select(a => a.D50Um!.Value)], grade.D50Um);
        return new(marked, system, null, grade.D50Um, at < 0 ? null : known[at], at < 0 ? null : known[at].D50Um!.Value / grade.D50Um);
    }

    private static string Same(AbrasiveKept kept) => kept.D50Um is not { } d50 ? "" : string.Join(", ",
        new[] { GradeSystem.FepaF, GradeSystem.FepaP, GradeSystem.Jis, GradeSystem.Cami }.Where(s => s.Key() != kept.System).Select(s => Grades.Nearest(d50, s)).Where(n => n.Ratio is > 0.8 and < 1.25).Select(n => n.Grade.Name));

    /// <summary>A grain in words.</summary>
    internal static string Um(double um) => um.ToString(um < 10 ? "0.0" : "0", CultureInfo.CurrentCulture) + " µm";
}
