using System.Runtime.CompilerServices;

namespace Whetwright.Formats.Tests;

/// <summary>Where the repository lies: found from this source file.</summary>
internal static class Repository
{
    public static string Root { get; } = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", ".."));

    public static string File(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string Here([CallerFilePath] string path = "") => path;
}
