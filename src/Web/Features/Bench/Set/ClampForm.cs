using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Primitives;
using Whetwright.Core.Quantities;
using Whetwright.Records.Kit;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>On which rig, and how it is clamped; it is part of the page's address, so it can be gone back to.</summary>
public sealed class ClampForm : WebForm
{
    /// <summary>The best clamp is searched for.</summary>
    public const string Best = "best";

    /// <summary>The clamp of last time is kept.</summary>
    public const string Last = "last";

    /// <summary>The clamp is typed.</summary>
    public const string Own = "typed";

    internal ClampForm(UnitsView units, IReadOnlyList<RigKept> rigs, bool lastTime)
    {
        Rig = Add(new ChoiceField("rig", "Rig", [.. rigs.Select(r => new Choice(r.Id.ToString(CultureInfo.InvariantCulture), r.Name))]) { Required = true });
        List<Choice> how = [new(Best, "The best for this blade")];
        if (lastTime)
            how.Add(new(Last, "As last time"));
        how.Add(new(Own, "As I measured it"));
        Clamp = Add(new ChoiceField("clamp", "Clamp", how) { Required = true });
        FromHeel = Add(new LengthField("from", "Jaw from the heel", units) { MinMm = -200, MaxMm = 2000, Hint = "Heel end of the edge to the middle of the jaw's front." });
        Out = Add(new LengthField("out", "Edge out of the jaw", units) { MinMm = 0.5, MaxMm = 500, Hint = "Jaw's front to the line of the edge, square to it." });
        Tilt = Add(new AngleField("tilt", "Holder turned", units) { MinDeg = -60, MaxDeg = 60, Hint = "In the blade's plane, toward the tip positive; empty for square." });
        Rig.Fill(rigs.Count > 0 ? rigs[0].Id.ToString(CultureInfo.InvariantCulture) : null);
        Clamp.Fill(Best);
    }

    /// <summary>The rig.</summary>
    public ChoiceField Rig { get; }

    /// <summary>How it is clamped.</summary>
    public ChoiceField Clamp { get; }

    /// <summary>Jaw from heel.</summary>
    public LengthField FromHeel { get; }

    /// <summary>Protrusion.</summary>
    public LengthField Out { get; }

    /// <summary>Tilt.</summary>
    public AngleField Tilt { get; }

    /// <summary>The clamp typed; null where none is.</summary>
    internal TypedClamp? Measured => Clamp.Value == Own && FromHeel.Value is { } from && Out.Value is { } protrusion ? new(from.Millimetres, protrusion.Millimetres, Tilt.Value?.Degrees ?? 0) : null;

    /// <summary>The same as a query, beginning with a question mark.</summary>
    internal string Query => "?" + string.Join('&', Fields.Where(f => f.Typed.Length > 0).Select(f => $"{f.Name}={Uri.EscapeDataString(f.Typed)}").Prepend("anew=1"));

    /// <summary>Reads the page's address; what is not in it keeps its prefill.</summary>
    internal ClampForm From(IQueryCollection query)
    {
        if (!Fields.Any(f => query.ContainsKey(f.Name)))
            return this;
        Dictionary<string, StringValues> sent = Fields.ToDictionary(f => f.Name, f => query.TryGetValue(f.Name, out StringValues typed) ? typed : new StringValues(f.Typed), StringComparer.Ordinal);
        Read(new FormCollection(sent));
        return this;
    }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Clamp.Value != Own)
            return;
        if (FromHeel.Value is null)
            FromHeel.Refuse("is empty; the length measured on the clamped blade would be right");
        if (Out.Value is null)
            Out.Refuse("is empty; the length measured on the clamped blade would be right");
    }
}

/// <summary>"Dialled": what is said by one button. The words make two versions comparable.</summary>
public sealed class DialledForm : WebForm
{
    internal DialledForm(string words = "", string diameters = "")
    {
        Words = Add(new TextField("words", "Dialled") { MaxLength = 400 });
        Diameters = Add(new TextField("diameters", "Wheels measured") { MaxLength = 400 });
        Words.Typed = words;
        Diameters.Typed = diameters;
    }

    /// <summary>What was dialled, in words.</summary>
    public TextField Words { get; }

    /// <summary>Diameter entries that the page showed.</summary>
    public TextField Diameters { get; }
}
