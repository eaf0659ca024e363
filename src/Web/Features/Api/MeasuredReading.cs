using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;
using Whetwright.Records.Bench;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Api;

/// <summary>A finished measurement of another instrument, as a reading that can be stored. Its numbers are taken as stated; none is computed but the sum.</summary>
internal sealed record MeasuredReading(string Method, string Version, MeasuredReading.Stated? Left, MeasuredReading.Stated? Right, MeasuredReading.Stated? Included)
{
    /// <summary>Keys of the document.</summary>
    public static readonly string[] Keys = ["method", "methodVersion", "leftDeg", "leftUDeg", "rightDeg", "rightUDeg", "includedDeg", "includedUDeg"];

    /// <summary>An angle with its standard uncertainty.</summary>
    internal sealed record Stated(double Deg, double UDeg);

    /// <summary>Included angle: as stated, or θ_L + θ_R with u = √(u_L² + u_R²), which takes the two as independent.</summary>
    public Stated? Sum => Included ?? (Left is not null && Right is not null ? new(Left.Deg + Right.Deg, Math.Sqrt((Left.UDeg * Left.UDeg) + (Right.UDeg * Right.UDeg))) : null);

    /// <summary>read, or one-side where only one side is known.</summary>
    public string Outcome => Sum is null ? "one-side" : "read";

    public static MeasuredReading? Read(FieldReader from)
    {
        string? method = from.Text("method");
        if (string.IsNullOrWhiteSpace(method) || method.Length > 60)
            from.Fault("method", "how it was measured, in 1 to 60 characters, would be right");
        string? version = from.Text("methodVersion");
        if (version?.Length > 20)
            from.Fault("methodVersion", "at most 20 characters would be right");
        Stated? left = One(from, "left", 89), right = One(from, "right", 89), included = One(from, "included", 178);
        if (!from.Has("leftDeg") && !from.Has("rightDeg") && !from.Has("includedDeg"))
            from.Fault("leftDeg", "at least one angle would be right: leftDeg, rightDeg or includedDeg, each with its uncertainty");
        return new(method ?? "", string.IsNullOrWhiteSpace(version) ? "not stated" : version, left, right, included);
    }

    /// <summary>The fact to store, its result in our reading format.</summary>
    public Reading ToFact(string inputsJson, string by, ReadingAbout about) => new()
    {
        VisitId = about.VisitId,
        Purpose = about.Purpose,
        MountIds = [],
        HappenedAt = about.HappenedAt,
        EnteredAt = about.EnteredAt,
        EnteredBy = about.EnteredBy,
        Method = Method,
        MethodVersion = Version,
        InputsJson = inputsJson,
        ResultJson = Result(by),
        Outcome = Outcome,
        IncludedDeg = Sum?.Deg,
        IncludedUDeg = Sum?.UDeg,
        LeftDeg = Left?.Deg,
        LeftUDeg = Left?.UDeg,
        RightDeg = Right?.Deg,
        RightUDeg = Right?.UDeg,
    };

    private static Stated? One(FieldReader from, string side, double most)
    {
        double? deg = from.AngleDeg(side + "Deg", new Limits(0, most, Open: true)), u = from.AngleDeg(side + "UDeg", new Limits(0, 20, Open: true));
        if (from.Has(side + "Deg") && !from.Has(side + "UDeg"))
            from.Fault(side + "UDeg", "missing; the standard uncertainty (k = 1) of the angle would be right: a number without doubt is no measurement");
        if (!from.Has(side + "Deg") && from.Has(side + "UDeg"))
            from.Fault(side + "Deg", "missing; an uncertainty needs its angle");
        return deg is { } d && u is { } v ? new(d, v) : null;
    }

    private string Result(string by) => JsonResults.Document(json =>
    {
        json.WriteString("outcome", Outcome);
        json.Reasons([new Reason("other-instrument", $"Angles and uncertainties as stated by {by}, measured by {Method} ({Version}); not computed here.")]);
        json.Number("includedDeg", Sum?.Deg);
        json.Number("includedUDeg", Sum?.UDeg);
        json.List("sides", ((Side Side, Stated? Angle)[])[(Side.Left, Left), (Side.Right, Right)], s =>
        {
            json.WriteString("target", JsonResults.Word(s.Side)); // no target of ours was in the beam: the blade's own side stands for it
            json.WriteString("blade", JsonResults.Word(s.Side));
            json.WriteNull("asReadDeg");
            json.WriteNull("asReadUDeg");
            json.Number("edgeDeg", s.Angle?.Deg);
            json.Number("edgeUDeg", s.Angle?.UDeg);
            json.WriteNull("primaryDeg");
            json.WriteNull("microDeg");
            json.WriteNull("rangeDeg");
            json.WriteNull("clarity");
        });
        json.WriteNull("rollDeg");
        json.WriteBoolean("rollKnown", false);
        json.List("marks", Array.Empty<int>(), _ => { });
        json.List("budget", Sum is null ? [] : (Stated[])[Sum], s =>
        {
            json.WriteString("source", $"stated by {by}");
            json.Number("uDeg", s.UDeg);
        });
        json.List("measureNext", Array.Empty<int>(), _ => { });
    });
}
