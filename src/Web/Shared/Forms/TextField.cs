namespace Whetwright.Web.Shared.Forms;

/// <summary>A line or some lines of text.</summary>
public sealed class TextField(string name, string label) : FormField(name, label)
{
    /// <summary>Most characters.</summary>
    public int MaxLength { get; init; } = 200;

    /// <summary>Lines shown; more than one makes it a text area.</summary>
    public int Lines { get; init; } = 1;

    /// <summary><c>tel</c>, <c>email</c>, <c>url</c>, <c>search</c> where another keyboard helps.</summary>
    public string Keyboard { get; init; } = "text";

    /// <summary>Offered while typing.</summary>
    public IReadOnlyList<string> Offered { get; init; } = [];

    /// <summary>A check of its own: null, or what is wrong and what would be right.</summary>
    public Func<string, string?>? Also { get; init; }

    /// <inheritdoc/>
    public override string InputMode => Keyboard;

    /// <summary>The text, trimmed; null where nothing was typed.</summary>
    public string? Value => Typed.Length == 0 ? null : Typed;

    /// <summary>Prefills it.</summary>
    public TextField Fill(string? text)
    {
        Typed = text ?? "";
        return this;
    }

    private protected override void Check()
    {
        if (Typed.Length > MaxLength)
            Refuse($"has {Typed.Length} characters; at most {MaxLength} would be right");
        else if (Typed.Any(c => char.IsControl(c) && c is not ('\r' or '\n' or '\t')))
            Refuse("holds a control character; plain text would be right");
        else if (Lines == 1 && Typed.AsSpan().IndexOfAny('\r', '\n') >= 0)
            Refuse("has more than one line; one line would be right");
        else if (Also?.Invoke(Typed) is { } why)
            Refuse(why);
    }
}
