using Whetwright.Core.Abrasives;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench;

/// <summary>One stage of the grinding.</summary>
/// <param name="Number">1-based, as passes name it.</param>
/// <param name="Name">The wheel, else the abrasive.</param>
/// <param name="Abrasive">The abrasive; null for a wheel whose abrasive nobody described.</param>
/// <param name="Wheel">The wheel; null for rigs without one.</param>
/// <param name="Planned">Passes planned; null where they are only counted.</param>
/// <param name="Heat">What heat needs; null where the form does not tell.</param>
public sealed record GrindStage(int Number, string Name, AbrasiveKept? Abrasive, WheelKept? Wheel, AbrasiveStage? Planned, HeatCare? Heat)
{
    /// <summary>False where the plan does without it.</summary>
    public bool Needed { get; init; } = true;

    /// <summary>Passes planned on a side; null where they are only counted.</summary>
    public int? PassesOn(Side side) => side == Side.Left ? Planned?.PassesLeft : Planned?.PassesRight;

    /// <summary>The grade as marked; null where none is told.</summary>
    public string? Grade => Abrasive is { System: { } system, Grade: { Length: > 0 } grade } ? system == "um" ? grade + " µm" : $"{Standard(system)} {grade}" : null;

    private static string Standard(string system) => system switch { "fepa-f" => "FEPA", "fepa-p" => "FEPA", "jis" => "JIS", "cami" => "CAMI", _ => "" };
}

/// <summary>The abrasives in order, with passes where the section and the rates are known.</summary>
/// <param name="Stages">In order.</param>
/// <param name="Notes">Guesses, defaults, and why passes are only counted.</param>
/// <param name="Minutes">Planned, with the interval of the rates; null where passes are only counted.</param>
public sealed record StagesOnBench(IReadOnlyList<GrindStage> Stages, IReadOnlyList<Reason> Notes, (double Median, double Least, double Most)? Minutes)
{
    /// <summary>No step finer than this ratio of the grain before it (chosen, not derived; common practice doubles to quadruples the grit number).</summary>
    public const double MaxRatio = 6;

    /// <summary>A wheel slower than this at its surface is taken to run in water, a faster one dry (chosen, not derived).</summary>
    public const double DryFromMs = 10;

    /// <summary>Plans them.</summary>
    /// <param name="rig">The rig; null for work by hand.</param>
    /// <param name="made">The same for Core; null where it cannot be put together.</param>
    /// <param name="abrasives">What the shop owns, in its order.</param>
    /// <param name="section">What is to come off; null where not known.</param>
    /// <param name="learnt">Rates learnt from the log; where an abrasive has none its first guess counts.</param>
    public static StagesOnBench Of(RigKept? rig, Rig? made, IReadOnlyList<AbrasiveKept> abrasives, SectionResult? section, LearntRates learnt)
    {
        List<GrindStage> counted = [.. Grinding(rig, made, abrasives)];
        if (counted.Count == 0)
            return new([], [new("no-abrasives", "No abrasive that grinds is described: enter wheels and stones in Kit, coarse first. Passes cannot be counted by stage until then.")], null);
        if (section is null)
            return new(counted, [new("passes-counted", "The section is not known, so passes are counted and not forecast: measure behind the edge and the primary in Read, and choose the edge.")], null);
        if (counted.Where(s => s.Abrasive is not { AreaPerPassMm2: > 0 } || D50Um(s.Abrasive) is null).Select(s => s.Name).ToList() is { Count: > 0 } unknown)
        {
            return new(counted, [new("rate-not-known", $"Passes are counted and not forecast: grain or area per pass of {string.Join(", ", unknown)} is not known. Enter the grade and a first guess in Kit.")], null);
        }

        OwnedAbrasive[] owned = [.. counted.Select(s => new OwnedAbrasive(s.Name, D50Um(s.Abrasive!)!.Value, learnt.Rates.GetValueOrDefault(s.Abrasive!.Id) ?? CuttingRate.Guess(s.Abrasive.AreaPerPassMm2!.Value), s.Abrasive.ChangeMinutes ?? 0) { Medium = MediumOf(s.Abrasive, s.Wheel, made) })];
        AbrasivePlan plan = AbrasivePlanner.Plan(owned, new(section.Left.RemovedMm2, section.Right.RemovedMm2, owned.Min(o => o.D50Um), MaxRatio)
        {
            LeftFacetMm = section.Left.FacetWidthMm > 0 ? section.Left.FacetWidthMm : null,
            RightFacetMm = section.Right.FacetWidthMm > 0 ? section.Right.FacetWidthMm : null,
        });
        if (plan.Refusals.Count > 0)
            return new(counted, plan.Refusals, null);
        // Numbers stay with the wheels, whatever the plan takes: passes name them.
        GrindStage[] stages = [.. counted.Select(s => plan.Stages.FirstOrDefault(p => p.Abrasive.Name == s.Name) is { } planned ? s with { Planned = planned } : s with { Needed = false })];
        return new(stages, [.. plan.Notes.Where(n => n.Code is not ("burr" or "cooling")), .. Learnt(stages), .. Dress(stages, learnt)], (plan.Minutes, plan.MinutesRange.Least, plan.MinutesRange.Most));
    }

    private static IEnumerable<Reason> Learnt(IEnumerable<GrindStage> stages) => stages.Where(s => s.Planned is { Abrasive.Rate.IsGuess: false })
        .Select(s => new Reason("rate-learnt", FormattableString.Invariant($"{s.Name}: {s.Planned!.Abrasive.Rate.AreaPerPassMm2:0.####} mm² a pass, {s.Planned.Abrasive.Rate.Origin}.")));

    private static IEnumerable<Reason> Dress(IEnumerable<GrindStage> stages, LearntRates learnt) => stages
        .Where(s => s is { Needed: true, Wheel: not null } && learnt.Watches.GetValueOrDefault(s.Wheel.Id) is { Dress: true })
        .Select(s => new Reason(DressCode, FormattableString.Invariant($"Dress {s.Name}: since it was dressed its rate has fallen to {100 * learnt.Watches[s.Wheel!.Id].LeftOfFresh:0} % of what it was. Enter the new diameter afterwards.")));

    /// <summary>Code of the note that a wheel wants dressing.</summary>
    public const string DressCode = "dress-the-wheel";

    /// <summary>The abrasives that strop and hone: for Finish.</summary>
    public static bool ForFinish(AbrasiveForm form) => form is AbrasiveForm.Strop or AbrasiveForm.HoningWheel;

    /// <summary>A wheel that hones and does not grind: by its abrasive, else by its own offset.</summary>
    public static bool Hones(WheelKept wheel, IReadOnlyList<AbrasiveKept> abrasives) =>
        abrasives.FirstOrDefault(a => a.Id == wheel.AbrasiveId) is { } abrasive ? ForFinish(abrasive.Form) : wheel.OffsetDeg != 0;

    /// <summary>Median grain, µm: typed, else by its grade.</summary>
    public static double? D50Um(AbrasiveKept abrasive) => abrasive.D50Um
        ?? (abrasive is { System: { } key, Grade: { Length: > 0 } grade } && Grades.SystemFromKey(key) is { } system ? Grades.Find(system, grade)?.D50Um : null);

    private static IEnumerable<GrindStage> Grinding(RigKept? rig, Rig? made, IReadOnlyList<AbrasiveKept> abrasives)
    {
        int number = 0;
        if (rig is not null && (made is WheelAndBarRig || rig.Wheels.Any(w => !w.Retired)))
        {
            var wheels = rig.Wheels.Where(w => !w.Retired && !Hones(w, abrasives)).Select(w => (Wheel: w, Abrasive: abrasives.FirstOrDefault(a => a.Id == w.AbrasiveId)));
            foreach ((WheelKept wheel, AbrasiveKept? abrasive) in wheels.OrderBy(w => w.Abrasive?.Order ?? int.MaxValue).ThenBy(w => w.Wheel.Id))
                yield return new(++number, wheel.Name, abrasive, wheel, null, Heat(abrasive, wheel, made));
            yield break;
        }

        AbrasiveForm[] forms = made is SlackBeltRig ? [AbrasiveForm.Belt] : made is GuidedRodRig or BenchStoneRig ? [AbrasiveForm.Stone] : [AbrasiveForm.Stone, AbrasiveForm.Belt, AbrasiveForm.Rod];
        foreach (AbrasiveKept abrasive in abrasives.Where(a => forms.Contains(a.Form)))
            yield return new(++number, abrasive.Name, abrasive, null, null, Heat(abrasive, null, made));
    }

    private static HeatCare? Heat(AbrasiveKept? abrasive, WheelKept? wheel, Rig? made) => MediumOf(abrasive, wheel, made) is { } medium ? HeatCare.For(medium) : null;

    private static StageMedium? MediumOf(AbrasiveKept? abrasive, WheelKept? wheel, Rig? made)
    {
        if (wheel is not null)
        {
            double? diameter = (made as WheelAndBarRig)?.Wheels.FirstOrDefault(w => w.Name == wheel.Name)?.Diameter.Value.Millimetres;
            return diameter is { } mm && wheel.Rpm is { } rpm ? WheelSpeed.SurfaceMs(mm, rpm) > DryFromMs ? StageMedium.DryWheel : StageMedium.WetWheel : null;
        }

        return abrasive?.Form switch { AbrasiveForm.Belt => StageMedium.DryBelt, AbrasiveForm.Stone or AbrasiveForm.Rod => StageMedium.BenchStone, _ => null };
    }
}
