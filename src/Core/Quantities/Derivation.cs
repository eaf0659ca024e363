namespace Whetwright.Core.Quantities;

/// <summary>
/// How one number came to be: the formula, where it comes from, what went in, and how much each input moves the result.
/// Any number that is shown can be printed as its chain of derivations.
/// </summary>
/// <param name="Name">What the number is, as a reader would call it: <c>bar centre to wheel axis</c>.</param>
/// <param name="Value">The number.</param>
/// <param name="Unit"><c>deg</c>, <c>mm</c>, <c>mm²</c>, <c>mm³</c>, <c>mg</c>, <c>1</c> …</param>
/// <param name="Formula">In plain Unicode, with the symbols that <see cref="Inputs"/> name.</param>
/// <param name="Source">Key in docs/sources.md with the place: <c>[hecht] ch. 4</c>; <c>derived in docs/conventions.md</c>; <c>common practice, no source</c>.</param>
/// <param name="Inputs">What went in, in the order of the formula.</param>
/// <param name="Method">Name and version of the method: <c>optics.bevel-from-mark/1</c>.</param>
public sealed record Derivation(
    string Name,
    double Value,
    string Unit,
    string Formula,
    string Source,
    IReadOnlyList<DerivationInput> Inputs,
    string Method);

/// <summary>One input of a derivation.</summary>
/// <param name="Symbol">As in the formula.</param>
/// <param name="Name">What it is.</param>
/// <param name="Value">Its value.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Partial">Change of the result per unit of this input (result unit per input unit), or null where it has none to speak of.</param>
/// <param name="From">How the input itself came to be; null for a measured or typed value.</param>
/// <param name="IsDefault">True where the value is a default that nobody measured.</param>
public sealed record DerivationInput(
    string Symbol,
    string Name,
    double Value,
    string Unit,
    double? Partial = null,
    Derivation? From = null,
    bool IsDefault = false);
