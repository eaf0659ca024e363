using Microsoft.AspNetCore.Http;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Doors;

/// <summary>A secret: never shown again, never trimmed.</summary>
public sealed class SecretField(string name, string label) : FormField(name, label)
{
    /// <summary>What was typed.</summary>
    public string Secret { get; private set; } = "";

    /// <inheritdoc/>
    public override string Shown => "";

    private protected override void Take(IFormCollection sent)
    {
        Secret = sent[Name].ToString();
        Typed = Secret.Length > 0 ? "typed" : "";
    }

    private protected override void Check()
    {
        Typed = "";
        if (Secret.Length > DoorLimits.LongestPassphrase)
            Refuse($"has {Secret.Length} characters; at most {DoorLimits.LongestPassphrase} would be right");
    }
}

/// <summary>Six figures, typed with or without a space.</summary>
public sealed class CodeField(string name, string label) : FormField(name, label)
{
    /// <inheritdoc/>
    public override string InputMode => "numeric";

    private protected override void Check()
    {
        if (Typed.Length > 20 || Typed.Count(char.IsAsciiDigit) != 6 || Typed.Any(c => !char.IsAsciiDigit(c) && c is not (' ' or '-')))
            Refuse("is not six figures; 123 456 would be right");
    }
}
