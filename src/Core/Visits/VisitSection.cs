using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Visits;

/// <summary>The section of a visit: what the change of angle takes.</summary>
public static class VisitSection
{
    /// <summary>The section, or what it lacks; <c>Refused</c> is true where the numbers were there and the work is refused.</summary>
    /// <param name="blade">The piece.</param>
    /// <param name="old">Angles found; null where not known.</param>
    /// <param name="wanted">Angles wanted; null where not known.</param>
    /// <param name="newRadiusMm">Radius of the wheel that grinds the new facets; null for flat ones.</param>
    /// <param name="wish">Chip, purpose and the like.</param>
    public static (SectionResult? Section, IReadOnlyList<Reason> Reasons, bool Refused) Of(
        Blade blade, SidePair? old, SidePair? wanted, double? newRadiusMm, VisitWish wish)
    {
        List<Reason> missing = [];
        if (blade.BehindEdge is null)
            missing.Add(Blade.Missing("behindEdgeMm", "the section"));
        if (blade.PrimaryHalf is null)
            missing.Add(Blade.Missing("primaryHalfDeg", "the section"));
        if (blade.Land is null)
            missing.Add(new("not-given", "landMm is not given, so the section takes the apex as keen: no steel is counted for dullness. Measure the dull strip and add landMm."));
        if (old is null)
            missing.Add(new("not-given", "The angle found is not known on both sides, so the section is left out."));
        if (SectionWedge.TooDeep("chip", "chipMm", wish.ChipMm, blade.Height?.Millimetres) is { } tooDeep)
            return (null, [tooDeep], true);
        if (blade.BehindEdge is not { } behind || blade.PrimaryHalf is not { } half || old is null || wanted is null || behind <= Length.Zero)
            return (null, missing, false);
        bool steeper = wanted.LeftDeg > old.LeftDeg + 1e-9 || wanted.RightDeg > old.RightDeg + 1e-9;
        SectionInput input = new(behind.Millimetres, half.Degrees, old, wanted, blade.Edge.LengthMm)
        {
            LandMm = blade.Land?.Millimetres ?? 0,
            ChipMm = wish.ChipMm,
            Until = wish.Until ?? (steeper ? GrindUntil.Apex : null),
            MicroWidthMm = wish.MicroWidthMm,
            Back = VisitAngles.BackOf(blade),
            OldRadiusMm = wish.OldRadiusMm,
            NewRadiusMm = newRadiusMm,
            HeightMm = blade.Height?.Millimetres,
        };
        try
        {
            return SectionChange.Evaluate(input) switch
            {
                SectionOutcome.Computed computed => (computed.Result, missing, false),
                SectionOutcome.Refused refused => (null, [.. missing, .. refused.Reasons], true),
                _ => throw new InvalidOperationException("Not a member of the closed set."),
            };
        }
        catch (ArgumentOutOfRangeException e)
        {
            return (null, [.. missing, new("section-field", FormattableString.Invariant($"{e.ParamName} is {e.ActualValue}, so there is no section: {e.Message}"))], true);
        }
    }
}
