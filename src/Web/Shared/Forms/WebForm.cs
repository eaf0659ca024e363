using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records.Saving;

namespace Whetwright.Web.Shared.Forms;

/// <summary>
/// What a page asks for. A form of ours derives from it and adds its fields in the constructor; the handler reads it with
/// <see cref="ReadAsync"/>, saves only when that says so, and shows it again otherwise, with all that was typed.
/// </summary>
public abstract class WebForm
{
    /// <summary>Hidden field with the token that makes a form sent twice save once.</summary>
    public const string OnceName = "_once";

    /// <summary>Hidden field with the version the person saw.</summary>
    public const string VersionName = "_version";

    /// <summary>Button that redraws the page without saving.</summary>
    public const string PreviewName = "_preview";

    /// <summary>Buttons of steppers: <c>field:+1</c>.</summary>
    public const string StepName = "_step";

    private readonly List<FormField> fields = [];
    private readonly List<string> errors = [];

    /// <summary>Its fields in their order.</summary>
    public IReadOnlyList<FormField> Fields => fields;

    /// <summary>What is wrong with the form as a whole, beside its fields.</summary>
    public IReadOnlyList<string> Errors => errors;

    /// <summary>A form sent twice carries the same token twice.</summary>
    public string Once { get; private set; } = Guid.NewGuid().ToString("N");

    /// <summary>The version of the thing that the person saw; empty for a new thing.</summary>
    public string VersionSeen { get; set; } = "";

    /// <summary>What somebody else saved meanwhile, field by field; null where nobody did.</summary>
    public FormConflict? Conflict { get; private set; }

    /// <summary>It was sent only to redraw the page.</summary>
    public bool Redraw { get; private set; }

    /// <summary>Something is wrong.</summary>
    public bool Wrong => errors.Count > 0 || fields.Exists(f => f.Error is not null);

    /// <summary>Status of the page that shows this form.</summary>
    public int Status => Conflict is not null ? StatusCodes.Status409Conflict
        : Wrong && !Redraw ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK;

    /// <summary>Adds a field.</summary>
    protected T Add<T>(T field)
        where T : FormField
    {
        fields.Add(field);
        return field;
    }

    /// <summary>Reads what was sent. True: everything is right and the person wants it saved. False: show the form again.</summary>
    public async Task<bool> ReadAsync(HttpContext http)
    {
        Read(await http.Request.ReadFormAsync(http.RequestAborted));
        return !Redraw && !Wrong;
    }

    /// <summary>Reads what was sent.</summary>
    public void Read(IFormCollection sent)
    {
        if (Guid.TryParseExact(sent[OnceName].ToString(), "N", out Guid once))
            Once = once.ToString("N");
        VersionSeen = sent[VersionName].ToString();
        foreach (FormField field in fields)
            field.Read(sent);
        Redraw = sent.ContainsKey(PreviewName);
        if (sent[StepName].ToString() is { Length: > 0 } step)
        {
            Redraw = true;
            int colon = step.LastIndexOf(':');
            if (colon > 0 && fields.OfType<NumberField>().FirstOrDefault(f => f.Name == step[..colon]) is { } pressed
                && double.TryParse(step[(colon + 1)..], NumberStyles.Float, CultureInfo.InvariantCulture, out double by) && double.IsFinite(by))
                pressed.Press(by);
        }

        if (!Redraw && !Wrong)
            CheckTogether();
    }

    /// <summary>Adds an error about the form as a whole.</summary>
    public void Refuse(string why) => errors.Add(why);

    /// <summary>The version seen as the book counts it; -1 where the form carried none, which no row has.</summary>
    public int SeenVersion => int.TryParse(VersionSeen, NumberStyles.None, CultureInfo.InvariantCulture, out int version) ? version : -1;

    /// <summary>What the book refused: under the field of that name where there is one, else above the form.</summary>
    public void Refuse(IEnumerable<FieldProblem> problems)
    {
        foreach (FieldProblem problem in problems)
        {
            string what = string.IsNullOrEmpty(problem.Value) ? "is empty" : $"'{problem.Value}' is not right";
            if (fields.Find(f => f.Name.Equals(problem.Field, StringComparison.OrdinalIgnoreCase)) is { } field)
                field.Refuse($"{what}; {problem.Right}");
            else
                Refuse($"{problem.Field} {what}; {problem.Right}");
        }
    }

    /// <summary>
    /// Somebody else saved since the person loaded the page: shows both versions, and makes the next save one that has seen the other.
    /// </summary>
    /// <param name="now">The form as filled from what stands in the book now.</param>
    /// <param name="versionNow">Its version.</param>
    /// <param name="who">Who saved and when, a phrase: "the bench tablet, 14:05"; null where it is not known.</param>
    public void Meet(WebForm now, int versionNow, string? who = null)
    {
        List<FormDifference> differences = [];
        foreach ((FormField mine, FormField theirs) in fields.Zip(now.fields))
        {
            if (mine is not PhotoField && mine.Shown != theirs.Shown)
                differences.Add(new(mine.Label, theirs.Shown, mine.Shown));
        }

        Meet(differences, versionNow.ToString(CultureInfo.InvariantCulture), who);
    }

    /// <summary>The same where the thing is no row of the book but several facts: the page says itself where the two versions differ.</summary>
    /// <param name="differences">Where they differ.</param>
    /// <param name="versionNow">What the next save has seen.</param>
    /// <param name="who">Who saved and when, a phrase.</param>
    public void Meet(IReadOnlyList<FormDifference> differences, string versionNow, string? who = null)
    {
        Conflict = new(who, differences);
        VersionSeen = versionNow;
        Once = Guid.NewGuid().ToString("N");
    }

    /// <summary>Checks that need several fields; runs when each field is right by itself.</summary>
    protected virtual void CheckTogether()
    {
    }
}

/// <summary>Two versions of one thing.</summary>
/// <param name="Who">Who saved the other, and when.</param>
/// <param name="Differences">Where they differ; empty where both say the same.</param>
public sealed record FormConflict(string? Who, IReadOnlyList<FormDifference> Differences);

/// <summary>One difference.</summary>
/// <param name="Label">The field.</param>
/// <param name="Stands">What stands in the book now.</param>
/// <param name="Typed">What this person typed.</param>
public sealed record FormDifference(string Label, string Stands, string Typed);
