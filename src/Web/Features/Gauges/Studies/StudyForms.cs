using System.Globalization;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Gauges.Studies;

/// <summary>A study by CSV, from a file or typed.</summary>
public sealed class StudyForm : WebForm
{
    internal StudyForm()
    {
        Name = Add(new TextField("tableName", "What is studied") { Required = true, MaxLength = 80, Hint = "Laser target, two people." });
        Unit = Add(new ChoiceField("tableUnit", "Unit", StudyUnits.All) { Required = true }).Fill("deg");
        Tolerance = Add(new NumberField("tableTolerance", "Width of the tolerance it shall judge") { Min = 1e-6, Max = 1000, Hint = "From lower to upper limit: ± 0.5° is 1." });
        File = Add(new CsvField("file", "Table as CSV") { Hint = "Columns: part, operator, trial, value." });
        Text = Add(new TextField("text", "or typed, a line each") { Lines = 8, MaxLength = 40_000, Hint = "part, operator, trial, value in the first line; semicolons where you write 12,5." });
    }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Unit.</summary>
    public ChoiceField Unit { get; }

    /// <summary>Tolerance.</summary>
    public NumberField Tolerance { get; }

    /// <summary>CSV file.</summary>
    public CsvField File { get; }

    /// <summary>Typed.</summary>
    public TextField Text { get; }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (File.Text is null && Text.Value is null)
            Text.Refuse("is empty, and no file was chosen; one of the two would be right");
    }
}

/// <summary>Units of a study.</summary>
internal static class StudyUnits
{
    public static IReadOnlyList<Choice> All { get; } = [new("deg", "degrees"), new("mm", "mm")];
}

/// <summary>A study entered cell by cell.</summary>
public sealed class StudyGridForm : WebForm
{
    internal StudyGridForm(int parts, int people, int trials)
    {
        (Parts, People, Trials) = (parts, people, trials);
        Name = Add(new TextField("name", "What is studied") { Required = true, MaxLength = 80, Hint = "Laser target, two people." });
        Unit = Add(new ChoiceField("unit", "Unit", StudyUnits.All) { Required = true }).Fill("deg");
        Tolerance = Add(new NumberField("tolerance", "Width of the tolerance it shall judge") { Min = 1e-6, Max = 1000, Hint = "From lower to upper limit: ± 0.5° is 1." });
        Names = [.. Enumerable.Range(0, people).Select(i => Add(new TextField($"who{i}", $"Person {i + 1}") { Required = true, MaxLength = 40 }).Fill(((char)('A' + i)).ToString(CultureInfo.InvariantCulture)))];
        Cells = [.. Enumerable.Range(0, parts).SelectMany(p => Enumerable.Range(0, people).SelectMany(w => Enumerable.Range(0, trials).Select(t =>
            new StudyCell(p, w, t, Add(new NumberField(FormattableString.Invariant($"v{p}-{w}-{t}"), $"Part {p + 1}, person {w + 1}, repeat {t + 1}") { Min = -10000, Max = 10000 })))))];
    }

    /// <summary>How many.</summary>
    public int Parts { get; }

    /// <summary>How many.</summary>
    public int People { get; }

    /// <summary>How many.</summary>
    public int Trials { get; }

    /// <summary>Name.</summary>
    public TextField Name { get; }

    /// <summary>Unit.</summary>
    public ChoiceField Unit { get; }

    /// <summary>Tolerance.</summary>
    public NumberField Tolerance { get; }

    /// <summary>Who measured.</summary>
    public IReadOnlyList<TextField> Names { get; }

    /// <summary>The values; an empty one was not measured.</summary>
    public IReadOnlyList<StudyCell> Cells { get; }

    /// <summary>Measured cells.</summary>
    public IReadOnlyList<GaugeMeasurement> Measurements => [.. Cells.Where(c => c.Field.Value is not null)
        .Select(c => new GaugeMeasurement(Number(c.Part), Names[c.Person].Value ?? Number(c.Person), Number(c.Trial), c.Field.Value!.Value))];

    private static string Number(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Names.Select(n => n.Value).Distinct(StringComparer.OrdinalIgnoreCase).Count() < Names.Count)
            Names[^1].Refuse("names the same person twice; another name for each would be right");
    }
}

/// <summary>One cell.</summary>
/// <param name="Part">Index.</param>
/// <param name="Person">Index.</param>
/// <param name="Trial">Index.</param>
/// <param name="Field">Its field.</param>
public sealed record StudyCell(int Part, int Person, int Trial, NumberField Field);
