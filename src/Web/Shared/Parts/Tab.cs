namespace Whetwright.Web.Shared.Parts;

/// <summary>One tab.</summary>
/// <param name="Label">Shown.</param>
/// <param name="Address">Path of this app.</param>
public sealed record Tab(string Label, string Address);
