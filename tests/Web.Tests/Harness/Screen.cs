namespace Whetwright.Web.Tests.Harness;

/// <summary>A size of screen.</summary>
public sealed record Screen(string Name, int Width, int Height)
{
    /// <summary>A small phone, upright.</summary>
    public static Screen Phone { get; } = new("phone", 360, 740);

    /// <summary>A tablet, on its side.</summary>
    public static Screen Tablet { get; } = new("tablet", 1024, 768);

    /// <summary>The screen of that name, for theories.</summary>
    public static Screen Of(string name) => name == Phone.Name ? Phone : name == Tablet.Name ? Tablet : throw new ArgumentException($"No screen '{name}'.", nameof(name));

    public override string ToString() => Name;
}
