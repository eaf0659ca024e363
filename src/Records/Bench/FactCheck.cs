using Whetwright.Records.Money;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Bench;

/// <summary>What a fact must be to go into the book, whatever page or program it comes from.</summary>
internal static class FactCheck
{
    internal static IReadOnlyList<FieldProblem> Of(VisitFact fact)
    {
        FormCheck check = new();
        _ = fact switch
        {
            Reading f => check
                .OneOf(nameof(f.Outcome), f.Outcome, "read", "one-side", "refused")
                .Text(nameof(f.Method), f.Method, "the method's name would be right")
                .Angle(nameof(f.IncludedDeg), f.IncludedDeg, 180).Angle(nameof(f.LeftDeg), f.LeftDeg, 90).Angle(nameof(f.RightDeg), f.RightDeg, 90)
                .Angle(nameof(f.IncludedUDeg), f.IncludedUDeg, 180).Angle(nameof(f.LeftUDeg), f.LeftUDeg, 90).Angle(nameof(f.RightUDeg), f.RightUDeg, 90),
            Mount f => check
                .OneOf(nameof(f.Tip), f.Tip, "up", "down")
                .That(f.MarksJson is not null || f.PhotoId is not null || f.Withdrawn, nameof(f.MarksJson), null, "marks or a photo would be right"),
            OutlineTaken f => check.Mm(nameof(f.LengthMm), f.LengthMm, 2000).Mm(nameof(f.HeightMm), f.HeightMm, 500).Mm(nameof(f.ChipMm), f.ChipMm, 100),
            SectionMeasured f => check
                .Mm(nameof(f.BehindEdgeMm), f.BehindEdgeMm, 20).Angle(nameof(f.PrimaryHalfDeg), f.PrimaryHalfDeg, 45).Mm(nameof(f.LandMm), f.LandMm, 10)
                .Mm(nameof(f.ChipMm), f.ChipMm, 100).Mm(nameof(f.SpineMm), f.SpineMm, 50).Mm(nameof(f.HeightMm), f.HeightMm, 500)
                .Within(nameof(f.BendMm), f.BendMm, -50, 50, "mm"),
            SteelNoted f => check
                .Text(nameof(f.Source), f.Source, "where it is known from would be right, such as the steel's data sheet", 200)
                .Within(nameof(f.HardnessHrc), f.HardnessHrc, 20, 70, "HRC")
                .Volume(nameof(f.CementitePercent), f.CementitePercent).Volume(nameof(f.ChromiumCarbidePercent), f.ChromiumCarbidePercent)
                .Volume(nameof(f.ChromiumVanadiumCarbidePercent), f.ChromiumVanadiumCarbidePercent).Volume(nameof(f.VanadiumCarbidePercent), f.VanadiumCarbidePercent)
                .Volume(nameof(f.TungstenCarbidePercent), f.TungstenCarbidePercent).Volume(nameof(f.VanadiumNitridePercent), f.VanadiumNitridePercent)
                .Volume(nameof(f.ChromiumNitridePercent), f.ChromiumNitridePercent),
            AimChosen f => check
                .Angle(nameof(f.LeftDeg), f.LeftDeg, 89).Angle(nameof(f.RightDeg), f.RightDeg, 89)
                .That(f.Withdrawn || f.LeftDeg > 0 || f.RightDeg > 0, nameof(f.LeftDeg), f.LeftDeg, "an angle above 0 on at least one side would be right")
                .Angle(nameof(f.MicroDeg), f.MicroDeg, 89).Angle(nameof(f.HoneDeg), f.HoneDeg, 89).Angle(nameof(f.ToleranceDeg), f.ToleranceDeg, 20),
            SettingMade f => check.That(f.RigId > 0, nameof(f.RigId), f.RigId, "a rig of the shop would be right"),
            TouchOff f => check.Within(nameof(f.ExpectedMm), f.ExpectedMm, -2000, 2000, "mm").Within(nameof(f.MeasuredMm), f.MeasuredMm, -2000, 2000, "mm"),
            Passes f => check
                .OneOf(nameof(f.Side), f.Side, "left", "right", "both")
                .That(f.Count is >= 0 and <= 10000, nameof(f.Count), f.Count, "a count from 0 to 10000 would be right")
                .That(f.Stage is >= 1 and <= 100, nameof(f.Stage), f.Stage, "a stage from 1 on would be right"),
            CutTest f => check
                .OneOf(nameof(f.Heel), f.Heel, "clean", "catches", "tears").OneOf(nameof(f.Middle), f.Middle, "clean", "catches", "tears")
                .OneOf(nameof(f.Tip), f.Tip, "clean", "catches", "tears"),
            Charge f => check
                .Text(nameof(f.Text), f.Text, "what it is for would be right")
                .That(Math.Abs(f.AmountMinor) <= Amounts.Largest, nameof(f.AmountMinor), f.AmountMinor, "an amount within reason would be right")
                .That(f.TaxMilliPercent is >= 0 and <= 100_000, nameof(f.TaxMilliPercent), f.TaxMilliPercent, "a rate from 0 to 100 % would be right")
                .Within(nameof(f.Minutes), f.Minutes, 0, 10000, "min"),
            VisitNote f => check.Text(nameof(f.Text), f.Text, "a few words would be right", 10000),
            _ => check,
        };
        return check.Problems;
    }

    private static FormCheck Angle(this FormCheck check, string field, double? value, double to) => check.Within(field, value, 0, to, "°");

    private static FormCheck Volume(this FormCheck check, string field, double value) => check.Within(field, value, 0, 40, "%");

    private static FormCheck Mm(this FormCheck check, string field, double? value, double to) => check.Within(field, value, 0, to, "mm");
}
