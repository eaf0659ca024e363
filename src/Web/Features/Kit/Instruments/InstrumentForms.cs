using Whetwright.Core.Targets;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Instruments;

/// <summary>A new instrument: a printed target at a distance that a spacer fixes.</summary>
public sealed class NewInstrumentForm : WebForm
{
    internal NewInstrumentForm(UnitsView units)
    {
        Name = Add(new TextField("name", "Name") { Required = true, MaxLength = 60, Hint = "Bench target; target in the case." });
        Paper = Add(new ChoiceField("paper", "Printed on", [.. KnownPaperSizes.All.Select(p => new Choice(p.Name, p.Name.ToUpperInvariant()))]) { Required = true }).Fill("a4");
        Distance = Add(new LengthField("printedFor", "Printed for a distance of", units) { Required = true, MinMm = 20, MaxMm = 1000, Hint = "As it stands on the sheet." }).Fill(Core.Quantities.Length.FromMillimetres(100));
        Spacer = Add(new LengthField("spacer", "Spacer between edge and sheet", units) { Required = true, MinMm = 5, MaxMm = 5000, Hint = "Measured: a cut batten, a gauge block. It fixes the distance." }).Fill(Core.Quantities.Length.FromMillimetres(100));
        SpacerU = Add(new LengthField("spacerU", "How well its length is known (standard uncertainty)", units) { MinMm = 0.001, MaxMm = 50, Hint = "Left empty: 0.2 %, chosen." });
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Paper.</summary>
    public ChoiceField Paper { get; }

    /// <summary>Distance the sheet is made for.</summary>
    public LengthField Distance { get; }

    /// <summary>Spacer.</summary>
    public LengthField Spacer { get; }

    /// <summary>Its uncertainty.</summary>
    public LengthField SpacerU { get; }
}

/// <summary>Distance by a spacer.</summary>
public sealed class SpacerForm : WebForm
{
    internal SpacerForm(UnitsView units)
    {
        Spacer = Add(new LengthField("spacer", "Spacer", units) { Required = true, MinMm = 5, MaxMm = 5000 });
        SpacerU = Add(new LengthField("spacerU", "How well its length is known", units) { MinMm = 0.001, MaxMm = 50, Hint = "Standard uncertainty. Left empty: 0.2 %, chosen." });
    }

    /// <summary>Spacer.</summary>
    public LengthField Spacer { get; }

    /// <summary>Its uncertainty.</summary>
    public LengthField SpacerU { get; }
}

/// <summary>Distance by moving the target a known step.</summary>
public sealed class StepForm : WebForm
{
    internal StepForm(UnitsView units)
    {
        Before = Add(new LengthField("before", "Left mark to right mark, before", units) { Required = true, MinMm = 0.1, MaxMm = 2000 });
        After = Add(new LengthField("after", "The same after the move", units) { Required = true, MinMm = 0.1, MaxMm = 4000 });
        Step = Add(new LengthField("step", "Moved back by", units) { Required = true, MinMm = 1, MaxMm = 5000, Hint = "At least as far as the distance itself." });
    }

    /// <summary>Before.</summary>
    public LengthField Before { get; }

    /// <summary>After.</summary>
    public LengthField After { get; }

    /// <summary>Step.</summary>
    public LengthField Step { get; }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (After.Value is { } after && Before.Value is { } before && after <= before)
            After.Refuse($"'{After.Typed}' is not above the {Before.Typed} before: moving the target back spreads the marks; a larger number would be right");
    }
}

/// <summary>Zero by the bare beam.</summary>
public sealed class ZeroForm : WebForm
{
    internal ZeroForm(UnitsView units)
    {
        Marks = Add(new TextField("marks", "Bare beam's marks, right of zero, in mm")
        {
            Required = true,
            MaxLength = 200,
            Hint = "Blade out, three times, apart by a semicolon: 0,4; 0,5; 0,3. Left of zero with a minus.",
            Also = t => Workbench.TypedMarks.Repeats(t, out string? why).Count == 0 ? why ?? "holds no number; 0,4; 0,5; 0,3 would be right" : null,
        });
        Resolution = Add(new LengthField("resolution", "Finest step read", units) { Required = true, MinMm = 0.01, MaxMm = 10 }).Fill(Core.Quantities.Length.FromMillimetres(0.5));
    }

    /// <summary>Marks.</summary>
    public TextField Marks { get; }

    /// <summary>Resolution.</summary>
    public LengthField Resolution { get; }
}

/// <summary>The printer's own scale.</summary>
public sealed class PrintForm : WebForm
{
    internal PrintForm(UnitsView units)
    {
        Across = Add(new LengthField("across", "Check line across, as measured", units) { Required = true, MinMm = 90, MaxMm = 110, Hint = "Drawn as 100 mm." });
        Down = Add(new LengthField("down", "Check line down, as measured", units) { Required = true, MinMm = 90, MaxMm = 110 });
    }

    /// <summary>Across.</summary>
    public LengthField Across { get; }

    /// <summary>Down.</summary>
    public LengthField Down { get; }
}
