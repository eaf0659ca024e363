using Microsoft.AspNetCore.Http;

namespace Whetwright.Web.Shared.Forms;

/// <summary>
/// One field of a form: its name, label, unit and hint; what was typed, kept as it was typed; and, after reading, what is wrong with it.
/// Label, checks and message live here once; <c>Field</c> draws it.
/// </summary>
public abstract class FormField(string name, string label)
{
    /// <summary>Name in the form and JSON-like key.</summary>
    public string Name { get; } = name;

    /// <summary>What it is called on the page.</summary>
    public string Label { get; } = label;

    /// <summary>Unit shown behind the input.</summary>
    public string? Unit { get; init; }

    /// <summary>A line under the label: how to measure it, what it is for.</summary>
    public string? Hint { get; init; }

    /// <summary>It must be filled.</summary>
    public bool Required { get; init; }

    /// <summary>What the browser may fill in by itself, such as <c>tel</c> or <c>name</c>.</summary>
    public string? AutoComplete { get; init; }

    /// <summary>As typed, or as prefilled.</summary>
    public string Typed { get; set; } = "";

    /// <summary>What is wrong and what would be right; null where nothing is.</summary>
    public string? Error { get; private set; }

    /// <summary>Id of the input.</summary>
    public string Id => "f-" + Name;

    /// <summary>Id of the line with the error.</summary>
    public string ErrorId => Id + "-error";

    /// <summary>Id of the line with the hint.</summary>
    public string HintId => Id + "-hint";

    /// <summary>Kind of on-screen keyboard.</summary>
    public virtual string InputMode => "text";

    /// <summary>What a person sees of the value: for the list of differences between two versions.</summary>
    public virtual string Shown => Typed;

    /// <summary>Marks the field as wrong; for checks that need more than the field itself, such as a name that is taken.</summary>
    public void Refuse(string why) => Error ??= why;

    /// <summary>Takes what was sent and checks it.</summary>
    internal void Read(IFormCollection sent)
    {
        Take(sent);
        if (Typed.Length == 0)
        {
            if (Required)
                Refuse(Missing);
            Empty();
            return;
        }

        Check();
    }

    /// <summary>What to say where a needed field is empty.</summary>
    protected virtual string Missing => "is empty; it is needed";

    /// <summary>Takes the text.</summary>
    private protected virtual void Take(IFormCollection sent) => Typed = sent[Name].ToString().Trim();

    /// <summary>Reads <see cref="Typed"/> into the value, or refuses.</summary>
    private protected abstract void Check();

    /// <summary>Nothing was typed.</summary>
    private protected virtual void Empty()
    {
    }
}
