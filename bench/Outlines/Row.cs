namespace Whetwright.Outlines;

/// <summary>One tracing against its truth.</summary>
internal sealed record Row(
    string Name,
    string How,
    bool Refused,
    bool ShouldRefuse,
    string Note,
    double RmsMm,
    double MeanMm,
    double LengthErrorMm,
    double HeelMm,
    double TipMm,
    int Chips,
    int Found,
    int Invented,
    double UMm,
    double HeightErrorMm,
    double HeightUMm,
    (double Heel, double Tip, double Edge) EndsUMm,
    double[] Z)
{
    public const string Header = "scene              how   rms   median+in length heel  tip   u     height chips        z true/got±u   note";

    public static string Summary(string how, IReadOnlyList<Row> rows)
    {
        var good = rows.Where(r => !r.Refused && !r.ShouldRefuse).ToList();
        var due = rows.Where(r => !r.ShouldRefuse).ToList();
        double At(IEnumerable<double> v, double q)
        {
            double[] s = [.. v.Order()];
            return s.Length == 0 ? double.NaN : s[Math.Min(s.Length - 1, (int)(q * s.Length))];
        }

        int chips = good.Sum(r => r.Chips);
        return $"{how,-5} {rows.Count} photos; refused {due.Count(r => r.Refused)} of {due.Count} readable, {rows.Count(r => r.ShouldRefuse && r.Refused)} of {rows.Count(r => r.ShouldRefuse)} to be refused; "
            + $"edge RMS median {At(good.Select(r => r.RmsMm), 0.5):0.000} p95 {At(good.Select(r => r.RmsMm), 0.95):0.000}; "
            + $"length |error| median {At(good.Select(r => Math.Abs(r.LengthErrorMm)), 0.5):0.00} p95 {At(good.Select(r => Math.Abs(r.LengthErrorMm)), 0.95):0.00}; "
            + $"chips {good.Sum(r => r.Found)} of {chips}, invented {good.Sum(r => r.Invented)}; height |error| median {At(good.Select(r => Math.Abs(r.HeightErrorMm)), 0.5):0.00} p95 {At(good.Select(r => Math.Abs(r.HeightErrorMm)), 0.95):0.00}, within 2u {good.Count(r => Math.Abs(r.HeightErrorMm) <= 2 * r.HeightUMm)}; RMS/u {Math.Sqrt(good.Select(r => r.RmsMm * r.RmsMm / Math.Max(1e-9, r.UMm * r.UMm)).DefaultIfEmpty(double.NaN).Average()):0.00}";
    }

    public override string ToString() => Refused
        ? $"{Name,-18} {How,-5} refused ({(ShouldRefuse ? "rightly" : "WRONGLY")}): {Note}"
        : $"{Name,-18} {How,-5} {RmsMm:0.000} {MeanMm,6:0.000}   {LengthErrorMm,6:0.00} {HeelMm:0.00} {TipMm,5:0.00}  {UMm:0.00}  {HeightErrorMm,6:0.00} {Found}/{Chips} inv {Invented}  {Z[0]:0.00}/{Z[1]:0.00}±{Z[2]:0.00} h±{HeightUMm:0.00} ends±{EndsUMm.Heel:0.00}/{EndsUMm.Tip:0.00} edge±{EndsUMm.Edge:0.00}  {(ShouldRefuse ? "SHOULD REFUSE " : "")}{Note}";
}
