using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Optics;
using Whetwright.Core.PenTest;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Visits;

/// <summary>
/// Everything for one piece: the reading combined, the angle chosen, what to dial, the section before and after, the pen test to expect. Pure:
/// the faces read the files, call this, and show it.
/// </summary>
public sealed record VisitPlan
{
    /// <summary>The piece.</summary>
    public required Blade Blade { get; init; }

    /// <summary>The rig.</summary>
    public required Rig Rig { get; init; }

    /// <summary>What was wanted.</summary>
    public required VisitWish Wish { get; init; }

    /// <summary>The angles found; null where no marks were given.</summary>
    public CombinedReading? Reading { get; init; }

    /// <summary>Old angles per side, as they enter the section; null where they are not known.</summary>
    public SidePair? Old { get; init; }

    /// <summary>Angles wanted per side; null where neither wish nor reading says one.</summary>
    public SidePair? Wanted { get; init; }

    /// <summary>What to dial; null where no angle is known.</summary>
    public SettingPlan? Setting { get; init; }

    /// <summary>The section before and after; null where it was left out or refused.</summary>
    public SectionResult? Section { get; init; }

    /// <summary>New against old; null without a section.</summary>
    public EdgeRatios? Ratios { get; init; }

    /// <summary>The pen tests to expect on the first setting of each side; empty where the facet's width is not known.</summary>
    public IReadOnlyList<VisitPenTest> PenTests { get; init; } = [];

    /// <summary>What was left out, and why.</summary>
    public IReadOnlyList<Reason> Omissions { get; init; } = [];

    /// <summary>Why the work is refused; empty where it is not.</summary>
    public IReadOnlyList<Reason> Refusals { get; init; } = [];

    /// <summary>Cautions that apply to this work.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>True where the work is refused.</summary>
    public bool Refused => Refusals.Count > 0;

    /// <summary>Makes the plan.</summary>
    /// <param name="blade">The piece.</param>
    /// <param name="reading">The angles found, where there are any.</param>
    /// <param name="rig">The rig.</param>
    /// <param name="wish">What is wanted.</param>
    /// <param name="cancellationToken">Stops the search for a clamp.</param>
    public static VisitPlan Make(Blade blade, CombinedReading? reading, Rig rig, VisitWish wish, CancellationToken cancellationToken = default)
    {
        List<Reason> omissions = [];
        List<Reason> refusals = [];
        if (reading is null)
            omissions.Add(new("no-reading", "No marks are given, so the angles found are not known; add marks to the visit, or read the edge first."));
        else if (reading.Outcome == ReadingOutcome.Refused)
            refusals.AddRange(reading.Reasons);
        SidePair? old = VisitAngles.Old(blade, reading);
        SidePair? wanted = VisitAngles.Wanted(blade, old, wish);
        if (wanted is null)
            refusals.Add(new("no-angle", "No angle is wanted and none was read on both sides: give angleDeg in the wish, or read the edge so that it can be kept."));
        else if (wish.Angle is null)
            omissions.Add(new("keep-found", FormattableString.Invariant($"No angle is given in the wish, so the found one is kept: {wanted.LeftDeg:0.0}° left, {wanted.RightDeg:0.0}° right.")));
        SettingPlan? setting = wanted is null ? null : SettingPlanner.Plan(blade, rig, VisitAngles.ForRig(blade, wanted, wish), cancellationToken);
        refusals.AddRange(setting?.Refusals ?? []);
        (SectionResult? section, IReadOnlyList<Reason> noSection, bool refused) = VisitSection.Of(blade, old, wanted, rig is WheelAndBarRig { Wheels: [var first, ..] } ? first.RadiusMm : null, wish);
        (refused ? refusals : omissions).AddRange(noSection);
        IReadOnlyList<VisitPenTest> tests = VisitPenTest.For(section, setting, wish);
        if (section is not null && tests.Count == 0 && setting is not null)
            omissions.Add(new("no-pen-test", "The pen test is left out: no side has both a facet and a setting."));
        return new()
        {
            Blade = blade,
            Rig = rig,
            Wish = wish,
            Reading = reading,
            Old = old,
            Wanted = wanted,
            Setting = setting,
            Section = section,
            Ratios = section is null ? null : EdgeRatios.Of(section.Input.Old, section.Input.New),
            PenTests = tests,
            Omissions = omissions,
            Refusals = [.. refusals.Distinct()],
            Cautions = VisitCautions.For(rig, reading, setting),
        };
    }

    /// <summary>The chain behind every number, built on request.</summary>
    /// <param name="setUp">Scale, distance and zero behind marks read by eye; null for none.</param>
    public IReadOnlyList<Derivation> Explain(BenchSetUp? setUp = null) =>
    [
        .. Reading is { } reading ? ReadingDerivations.Explain(reading, setUp) : [],
        .. Setting?.Explain() ?? [],
        .. Section is { } section ? SectionExplanation.Explain(section) : [],
        .. Section is { } made && Ratios is { } ratios ? EdgeRatiosExplanation.Explain(ratios, made.Input.Old, made.Input.New) : [],
        .. PenTests.SelectMany(t => Touch.Explain(t.Forecast)),
    ];
}
