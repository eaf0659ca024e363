namespace Whetwright.Core.Quantities;

/// <summary>
/// Why a piece of work was refused, or what a result leaves out: a code for programs, and a text for the person
/// that says what is wrong and what to do next.
/// </summary>
/// <param name="Code">Short kebab-case name from a closed set that the docs list, such as <c>no-such-pose</c>.</param>
/// <param name="Text">One or two plain sentences: what is wrong, with the numbers, and what to do next at the bench.</param>
public sealed record Reason(string Code, string Text);
