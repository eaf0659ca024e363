using Whetwright.Core.Quantities;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>
/// What one bench sheet shows, as a plain record: the numbers are computed elsewhere and only laid out here. Lengths in
/// millimetres and angles in degrees whatever the display units; whatever is null or empty is left off the sheet, and
/// <see cref="Omissions"/> says why.
/// </summary>
public sealed record BenchSheet
{
    /// <summary>Short number of the piece or visit, as a person reads it out. Shown large, on every sheet.</summary>
    public required string Reference { get; init; }

    /// <summary>What the piece is: <c>kitchen knife, 210 mm</c>.</summary>
    public required string Title { get; init; }

    /// <summary>Whose piece it is, if it may be printed.</summary>
    public string? Owner { get; init; }

    /// <summary>What was asked for, in a line: <c>keep the found angle</c>.</summary>
    public string? Wish { get; init; }

    /// <summary>The date the sheet was made, as it shall be printed (the face has the clock, not the sheet).</summary>
    public string? Date { get; init; }

    /// <summary>A line for samples: <c>Invented sample: no such knife</c>. Null on real sheets.</summary>
    public string? InventedNote { get; init; }

    /// <summary>Name of the rig.</summary>
    public string? RigName { get; init; }

    /// <summary>How the numbers are shown and for whom.</summary>
    public SheetStyle Style { get; init; } = new();

    /// <summary>One clamp, or two with a change-over; never empty.</summary>
    public required IReadOnlyList<BenchClamp> Clamps { get; init; }

    /// <summary>The angles found.</summary>
    public BenchReading? Reading { get; init; }

    /// <summary>The section before and after.</summary>
    public SectionView? Section { get; init; }

    /// <summary>What the section costs, as lines ready to print: <c>steel off 84 mm³ (0.66 g)</c>.</summary>
    public IReadOnlyList<BenchFact> SectionFacts { get; init; } = [];

    /// <summary>The pen test to expect, one per wheel or side where they differ.</summary>
    public IReadOnlyList<PenTestView> PenTests { get; init; } = [];

    /// <summary>The abrasives in order, to tick.</summary>
    public IReadOnlyList<BenchStage> Stages { get; init; } = [];

    /// <summary>Cautions that apply to this work; the sheet prints them all.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>What had to be left out, and what to do about it.</summary>
    public IReadOnlyList<Reason> Omissions { get; init; } = [];

    /// <summary>Defaults that nobody measured and that went into the numbers: <c>bar 12 mm (default)</c>.</summary>
    public IReadOnlyList<string> DefaultsUsed { get; init; } = [];

    /// <summary>Learnt corrections that the numbers have taken out, in words: never silently.</summary>
    public IReadOnlyList<string> Corrections { get; init; } = [];

    /// <summary>Wheels worn since they were measured, in words: what that does to the uncertainty.</summary>
    public IReadOnlyList<WearNote> Wear { get; init; } = [];

    /// <summary>Where the uncertainty of the angle comes from, the largest share first: <c>wheel diameter ± 0.2°</c>; empty where it is not told.</summary>
    public IReadOnlyList<string> Budget { get; init; } = [];
}

/// <summary>A wheel worn since it was measured.</summary>
/// <param name="Text">In words.</param>
/// <param name="MeasureAgain">The wear makes the diameter less sure than the measuring did: measure it before it is set by.</param>
public sealed record WearNote(string Text, bool MeasureAgain);

/// <summary>How numbers are shown and for whom the sheet is laid out.</summary>
/// <param name="Inches">Lengths in inches (three decimals, four for what is under a tenth) in place of millimetres.</param>
/// <param name="DecimalComma">A comma as decimal sign.</param>
/// <param name="LeftHanded">The rig is drawn from the other side, as a left-handed person stands at it; the ticks are at the right.</param>
public sealed record SheetStyle(bool Inches = false, bool DecimalComma = false, bool LeftHanded = false)
{
    /// <summary>Writes a day as the rest of the program does; null for 2026-03-07.</summary>
    public Func<DateOnly, string>? Day { get; init; }
}

/// <summary>A named value, ready to print.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">With its unit.</param>
public sealed record BenchFact(string Name, string Value);

/// <summary>One clamping of the blade and the settings that go with it.</summary>
public sealed record BenchClamp
{
    /// <summary>The part of the edge this clamp serves, along the chord from the heel, mm.</summary>
    public required double FromMm { get; init; }

    /// <summary>The end of that part, mm.</summary>
    public required double ToMm { get; init; }

    /// <summary>Where the jaw's middle stands, along the chord from the heel, mm.</summary>
    public double? JawFromHeelMm { get; init; }

    /// <summary>How far the edge stands out of the jaw, mm.</summary>
    public double? ProtrusionMm { get; init; }

    /// <summary>Turn of the blade in its own plane in the jaw, degrees; positive lifts the tip.</summary>
    public double? PlaneTiltDeg { get; init; }

    /// <summary>Shim that squares a fixed jaw, mm; null where none is needed or known.</summary>
    public double? ShimMm { get; init; }

    /// <summary>Largest deviation from the wanted angle along the scored part, degrees.</summary>
    public double? WorstDeg { get; init; }

    /// <summary>Proved lower bound of that deviation for any clamp of this rig, degrees.</summary>
    public double? BoundDeg { get; init; }

    /// <summary>Whether jaw, spine and handle clear the abrasive; null where the jaw is not described.</summary>
    public bool? Clears { get; init; }

    /// <summary>What does not clear, or what could not be checked, in a sentence.</summary>
    public string? ClearsText { get; init; }

    /// <summary>The angle along the edge, with the clamp on it.</summary>
    public EdgeAngleView? EdgeAngles { get; init; }

    /// <summary>What to dial, per wheel and side, in the order of use; never empty.</summary>
    public required IReadOnlyList<BenchSetting> Settings { get; init; }

    /// <summary>Standard uncertainty of the angle that will be ground, degrees.</summary>
    public double? UDeg { get; init; }

    /// <summary>The one measurement that would shrink it most: <c>wheel diameter to ±0.1 mm: then ±0.2°</c>.</summary>
    public string? MeasureNext { get; init; }
}

/// <summary>One number to dial.</summary>
public sealed record BenchSetting
{
    /// <summary>The wheel, rod or stone.</summary>
    public required string Name { get; init; }

    /// <summary>The blade side it is for; null for both alike.</summary>
    public Side? BladeSide { get; init; }

    /// <summary>What to dial, in the words of the trade: <c>far side of bar to wheel</c>, <c>rod pivot height</c>, <c>lift</c>.</summary>
    public required string DialName { get; init; }

    /// <summary>The number to dial, mm; null where the dial is in degrees.</summary>
    public double? DialMm { get; init; }

    /// <summary>The number to dial, degrees; null where it is a length.</summary>
    public double? DialDeg { get; init; }

    /// <summary>Standard uncertainty of the number to dial from what went into it, mm or degrees as the number itself.</summary>
    public double? DialU { get; init; }

    /// <summary>The angle this grinds, degrees per side (or from the back, when <see cref="FromTheBack"/>).</summary>
    public double? AngleDeg { get; init; }

    /// <summary>The angle is from the back.</summary>
    public bool FromTheBack { get; init; }

    /// <summary>How far from how the rig stands now: travel of the bar along its posts, mm, positive away from the wheel.</summary>
    public double? TravelMm { get; init; }

    /// <summary>The same in turns of the thread.</summary>
    public double? TravelTurns { get; init; }

    /// <summary>Other distances for the same setting: <c>bar centre to axis, 181.34 mm</c>.</summary>
    public IReadOnlyList<BenchFact> Also { get; init; } = [];

    /// <summary>Diameter used, mm.</summary>
    public double? DiameterMm { get; init; }

    /// <summary>Its standard uncertainty, mm.</summary>
    public double? DiameterUMm { get; init; }

    /// <summary>Which entry that was, with its date: <c>entry 14, 2026-11-20</c>.</summary>
    public string? DiameterEntry { get; init; }

    /// <summary>The wheel must be measured again, in a few words; null where not. Stands in place of the entry.</summary>
    public string? DiameterWorn { get; init; }

    /// <summary>The diameter is a default that nobody measured.</summary>
    public bool DiameterIsDefault { get; init; }

    /// <summary>The setting used a diameter that has been measured again since.</summary>
    public bool IsStale { get; init; }

    /// <summary>One distance to measure after clamping and after each wheel change, mm.</summary>
    public double? TouchOffMm { get; init; }

    /// <summary>From where to where: <c>bar's far side to the edge, 60 mm from the heel</c>.</summary>
    public string? TouchOffText { get; init; }

    /// <summary>The rig from the side with this setting, to scale.</summary>
    public RigView? Rig { get; init; }
}

/// <summary>The angles found, with what they cannot say.</summary>
public sealed record BenchReading
{
    /// <summary>Included angle, degrees.</summary>
    public double? IncludedDeg { get; init; }

    /// <summary>Its standard uncertainty, degrees.</summary>
    public double? IncludedUDeg { get; init; }

    /// <summary>Left side of the blade, degrees from the mid-plane.</summary>
    public double? LeftDeg { get; init; }

    /// <summary>Its standard uncertainty, degrees.</summary>
    public double? LeftUDeg { get; init; }

    /// <summary>Right side of the blade, degrees from the mid-plane.</summary>
    public double? RightDeg { get; init; }

    /// <summary>Its standard uncertainty, degrees.</summary>
    public double? RightUDeg { get; init; }

    /// <summary>What the reading cannot know, one sentence each.</summary>
    public IReadOnlyList<string> CannotKnow { get; init; } = [];

    /// <summary>What to measure next.</summary>
    public string? MeasureNext { get; init; }

    /// <summary>The marks on the target's row.</summary>
    public ReadingView? Marks { get; init; }
}

/// <summary>One abrasive, to tick.</summary>
/// <param name="Name">The wheel or stone.</param>
/// <param name="Grade">Its grade by its own standard, <c>JIS 1000</c>.</param>
/// <param name="Passes">Passes per side, <c>left 12, right 10</c>.</param>
/// <param name="Note">Cooling, when to look for the burr, edge-trailing.</param>
public sealed record BenchStage(string Name, string? Grade = null, string? Passes = null, string? Note = null);
