using System.Globalization;

namespace Whetwright.Records.Saving;

/// <summary>Why a field cannot be saved as it is.</summary>
/// <param name="Field">Its name in the form, as the property is called.</param>
/// <param name="Value">What was in it; null for nothing.</param>
/// <param name="Right">What would be right.</param>
public sealed record FieldProblem(string Field, string? Value, string Right)
{
    /// <summary>The whole sentence.</summary>
    public override string ToString() =>
        string.IsNullOrEmpty(Value) ? $"{Field} is empty: {Right}" : $"{Field} is {Value}: {Right}";
}

/// <summary>Gathers what is wrong with a form, all of it at once.</summary>
public sealed class FormCheck
{
    private readonly List<FieldProblem> problems = [];

    /// <summary>What was found.</summary>
    public IReadOnlyList<FieldProblem> Problems => problems;

    /// <summary>True where nothing was.</summary>
    public bool Passed => problems.Count == 0;

    /// <summary>Notes a problem where the condition does not hold.</summary>
    public FormCheck That(bool holds, string field, object? value, string right)
    {
        if (!holds)
            problems.Add(new FieldProblem(field, Convert.ToString(value, CultureInfo.InvariantCulture), right));
        return this;
    }

    /// <summary>Text must be there and not longer than this.</summary>
    public FormCheck Text(string field, string? value, string right, int longest = 200) =>
        That(!string.IsNullOrWhiteSpace(value), field, value, right).Longest(field, value, longest);

    /// <summary>Text may be missing, but not longer than this.</summary>
    public FormCheck Longest(string field, string? value, int longest) =>
        That((value?.Length ?? 0) <= longest, field, $"{value?.Length} characters long", string.Create(CultureInfo.InvariantCulture, $"at most {longest} characters would fit"));

    /// <summary>A number may be missing; where it is there it lies within.</summary>
    public FormCheck Within(string field, double? value, double from, double to, string unit) =>
        That(value is null || (value >= from && value <= to), field, value,
            string.Create(CultureInfo.InvariantCulture, $"a number from {from} to {to} {unit} would be right"));

    /// <summary>One of a few words, or nothing.</summary>
    public FormCheck OneOf(string field, string? value, params ReadOnlySpan<string> allowed)
    {
        foreach (string word in allowed)
        {
            if (value is null || value == word)
                return this;
        }

        return That(false, field, value, $"{string.Join(", ", allowed!)} would be right, or nothing");
    }
}
