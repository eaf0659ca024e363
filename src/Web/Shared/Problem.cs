namespace Whetwright.Web.Shared;

/// <summary>What a problem page says.</summary>
/// <param name="Status">HTTP status.</param>
/// <param name="Title">In two or three words.</param>
/// <param name="Text">What is wrong and what to do next.</param>
/// <param name="RequestId">What to quote from the log; only where the fault is ours.</param>
public sealed record Problem(int Status, string Title, string Text, string? RequestId = null);
