namespace Whetwright.Core.Quantities;

/// <summary>What came of a text that a person typed: a value, a question, or a refusal that says what would be right.</summary>
/// <typeparam name="T">What was asked for: <see cref="double"/>, <see cref="Length"/>, <see cref="Angle"/>.</typeparam>
public abstract record Typed<T>
{
    private Typed()
    {
    }

    /// <summary>It has one reading only.</summary>
    /// <param name="Of">The value.</param>
    public sealed record Value(T Of) : Typed<T>;

    /// <summary>
    /// A lone separator before exactly three digits: <c>1,000</c> may be one or one thousand. The person is asked, nothing is guessed.
    /// </summary>
    /// <param name="Text">As typed.</param>
    /// <param name="AsDecimal">The value where the separator is a decimal sign.</param>
    /// <param name="AsThousands">The value where it groups thousands.</param>
    /// <param name="Question">Names both readings and how to type each.</param>
    public sealed record Ambiguous(string Text, T AsDecimal, T AsThousands, string Question) : Typed<T>;

    /// <summary>It is not understood, or it is not a finite number.</summary>
    /// <param name="Text">As typed.</param>
    /// <param name="Why">What is wrong with it and what would be right.</param>
    public sealed record Refused(string Text, string Why) : Typed<T>;

    /// <summary>The same outcome for another type; each value goes through <paramref name="map"/>.</summary>
    internal Typed<TOther> Select<TOther>(Func<T, TOther> map) => this switch
    {
        Value v => new Typed<TOther>.Value(map(v.Of)),
        Ambiguous a => new Typed<TOther>.Ambiguous(a.Text, map(a.AsDecimal), map(a.AsThousands), a.Question),
        Refused r => new Typed<TOther>.Refused(r.Text, r.Why),
        _ => throw new InvalidOperationException("Not a member of the closed set."),
    };
}
