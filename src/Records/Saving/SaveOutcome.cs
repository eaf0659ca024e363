namespace Whetwright.Records.Saving;

/// <summary>How a save ended.</summary>
/// <typeparam name="T">What is saved.</typeparam>
public abstract record SaveOutcome<T>
{
    private SaveOutcome()
    {
    }

    /// <summary>It is in the book once the transaction is.</summary>
    public sealed record Saved(T Value) : SaveOutcome<T>;

    /// <summary>Somebody else saved since the form was shown. Nothing was saved now.</summary>
    /// <param name="Theirs">What is in the book.</param>
    public sealed record Conflict(T Theirs) : SaveOutcome<T>;

    /// <summary>The form cannot be saved as it is. Nothing was saved.</summary>
    public sealed record Refused(IReadOnlyList<FieldProblem> Problems) : SaveOutcome<T>
    {
        /// <summary>One problem.</summary>
        public Refused(string field, string? value, string right)
            : this([new FieldProblem(field, value, right)])
        {
        }
    }

    /// <summary>The same outcome with what was saved seen as something else.</summary>
    public SaveOutcome<TOther> As<TOther>(Func<T, TOther> seen) => this switch
    {
        Saved saved => new SaveOutcome<TOther>.Saved(seen(saved.Value)),
        Conflict conflict => new SaveOutcome<TOther>.Conflict(seen(conflict.Theirs)),
        Refused refused => new SaveOutcome<TOther>.Refused(refused.Problems),
        _ => throw new InvalidOperationException("Outcomes are a closed set."),
    };
}

/// <summary>How a form ended that was sent with a token.</summary>
/// <typeparam name="T">What is saved.</typeparam>
public abstract record Submitted<T>
{
    private Submitted()
    {
    }

    /// <summary>It is in the book, on the disk.</summary>
    /// <param name="LedTo">Where the first save of this token led.</param>
    /// <param name="Again">True where the token was known and nothing was saved now.</param>
    public sealed record Done(string LedTo, bool Again) : Submitted<T>;

    /// <summary>Somebody else saved since the form was shown.</summary>
    public sealed record Conflict(T Theirs) : Submitted<T>;

    /// <summary>The form cannot be saved as it is.</summary>
    public sealed record Refused(IReadOnlyList<FieldProblem> Problems) : Submitted<T>;
}
