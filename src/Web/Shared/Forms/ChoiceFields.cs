using System.Globalization;
using Microsoft.AspNetCore.Http;

namespace Whetwright.Web.Shared.Forms;

/// <summary>One thing to choose.</summary>
/// <param name="Key">Sent by the form.</param>
/// <param name="Label">Shown.</param>
/// <param name="Note">A second line; only where choices are shown side by side.</param>
public sealed record Choice(string Key, string Label, string? Note = null);

/// <summary>One of a few: side by side with a thumb's room each, or a list to open.</summary>
public sealed class ChoiceField(string name, string label, IReadOnlyList<Choice> choices) : FormField(name, label)
{
    /// <summary>What there is to choose.</summary>
    public IReadOnlyList<Choice> Choices { get; } = choices;

    /// <summary>Shown as a list to open instead of side by side.</summary>
    public bool List { get; init; } = choices.Count > 5;

    /// <summary>The key chosen; null where none was or it is not one of ours.</summary>
    public string? Value => Choices.Any(c => c.Key == Typed) ? Typed : null;

    /// <inheritdoc/>
    public override string Shown => Choices.FirstOrDefault(c => c.Key == Typed)?.Label ?? Typed;

    /// <inheritdoc/>
    protected override string Missing => "is not chosen; choose one";

    /// <summary>Prefills it.</summary>
    public ChoiceField Fill(string? key)
    {
        Typed = key ?? "";
        return this;
    }

    private protected override void Check()
    {
        if (Value is null)
            Refuse($"'{Typed}' is not one of the choices; {string.Join(", ", Choices.Take(8).Select(c => c.Label))} would be right");
    }
}

/// <summary>Any of a few, each on or off.</summary>
public sealed class ManyField(string name, string label, IReadOnlyList<Choice> choices) : FormField(name, label)
{
    /// <summary>What there is to choose.</summary>
    public IReadOnlyList<Choice> Choices { get; } = choices;

    /// <summary>The keys chosen.</summary>
    public IReadOnlyList<string> Values { get; private set; } = [];

    /// <inheritdoc/>
    public override string Shown => string.Join(", ", Choices.Where(c => Values.Contains(c.Key, StringComparer.Ordinal)).Select(c => c.Label));

    /// <inheritdoc/>
    protected override string Missing => "has none chosen; choose one at least";

    /// <summary>Prefills it.</summary>
    public ManyField Fill(IEnumerable<string> keys)
    {
        Values = [.. keys];
        Typed = string.Join(' ', Values);
        return this;
    }

    private protected override void Take(IFormCollection sent) => Fill(sent[Name].OfType<string>().Where(v => v.Length > 0));

    private protected override void Check()
    {
        foreach (string value in Values.Where(value => Choices.All(c => c.Key != value)))
            Refuse($"'{value}' is not one of the choices; {string.Join(", ", Choices.Take(8).Select(c => c.Label))} would be right");
    }
}

/// <summary>On or off.</summary>
public sealed class FlagField(string name, string label) : FormField(name, label)
{
    /// <summary>It is on.</summary>
    public bool Value => Typed.Length > 0;

    /// <inheritdoc/>
    public override string Shown => Value ? "yes" : "no";

    /// <inheritdoc/>
    protected override string Missing => "is not ticked; it is needed";

    /// <summary>Prefills it.</summary>
    public FlagField Fill(bool on)
    {
        Typed = on ? "yes" : "";
        return this;
    }

    private protected override void Check() => Typed = "yes";
}

/// <summary>A day.</summary>
public sealed class DateField(string name, string label) : FormField(name, label)
{
    /// <summary>First day that makes sense.</summary>
    public DateOnly Min { get; init; } = new(1900, 1, 1);

    /// <summary>Last day that makes sense.</summary>
    public DateOnly Max { get; init; } = new(2199, 12, 31);

    /// <summary>The day; null where nothing was chosen or it was refused.</summary>
    public DateOnly? Value { get; private set; }

    /// <inheritdoc/>
    public override string Shown => Value?.ToString("d MMM yyyy", CultureInfo.CurrentCulture) ?? Typed;

    /// <inheritdoc/>
    protected override string Missing => "is empty; a day such as 2026-03-31 would be right";

    /// <summary>Prefills it.</summary>
    public DateField Fill(DateOnly? day)
    {
        Value = day;
        Typed = day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";
        return this;
    }

    private protected override void Empty() => Value = null;

    private protected override void Check()
    {
        Value = null;
        if (!DateOnly.TryParseExact(Typed, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
            Refuse($"'{Typed}' is not a day; year, month and day such as 2026-03-31 would be right");
        else if (day < Min || day > Max)
            Refuse($"'{Typed}' is out of range; {Min:yyyy-MM-dd} to {Max:yyyy-MM-dd} would be right");
        else
            Value = day;
    }
}

/// <summary>A day and a time by the shop's clock.</summary>
public sealed class MomentField(string name, string label) : FormField(name, label)
{
    private static readonly string[] Formats = ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd HH:mm"];

    /// <summary>The shop's local time; <c>UnitsView.Universal</c> makes it universal.</summary>
    public DateTime? Local { get; private set; }

    /// <inheritdoc/>
    public override string Shown => Local?.ToString("d MMM yyyy HH:mm", CultureInfo.CurrentCulture) ?? Typed;

    /// <inheritdoc/>
    protected override string Missing => "is empty; a day and time such as 2026-03-31 14:05 would be right";

    /// <summary>Prefills it.</summary>
    public MomentField Fill(DateTime? local)
    {
        Local = local;
        Typed = local?.ToString(Formats[0], CultureInfo.InvariantCulture) ?? "";
        return this;
    }

    private protected override void Empty() => Local = null;

    private protected override void Check()
    {
        Local = null;
        if (DateTime.TryParseExact(Typed, Formats, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime local))
            Local = local;
        else
            Refuse($"'{Typed}' is not a day and time; one such as 2026-03-31 14:05 would be right");
    }
}
