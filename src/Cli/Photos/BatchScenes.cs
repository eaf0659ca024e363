namespace Whetwright.Cli.Photos;

/// <summary>One row of a batch.</summary>
/// <param name="Name">Name of the photo or of its folder.</param>
/// <param name="Files">The photos of the blade.</param>
internal sealed record BatchScene(string Name, PhotoFiles Files);

/// <summary>
/// What lies in a folder of photographs: each photo is a blade, and so is each sub-folder with a <c>photo.jpg</c>. Beside
/// <c>NAME.jpg</c> a <c>NAME_dark.jpg</c>, <c>NAME_off.jpg</c>, <c>NAME_turned.jpg</c> and <c>NAME_turned_dark.jpg</c> belong to the same blade.
/// </summary>
internal static class BatchScenes
{
    private static readonly string[] Pictures = [".jpg", ".jpeg", ".png"];

    // Not read, but a row says why.
    private static readonly string[] Foreign = [".heic", ".heif", ".avif", ".webp", ".gif", ".tif", ".tiff", ".dng", ".bmp", ".svg"];

    private static readonly string[] Companions = ["_dark", "_off", "_turned", "_turned_dark"];

    public static IReadOnlyList<BatchScene> In(string folder)
    {
        if (!Directory.Exists(folder))
            throw new InputRefusedException($"--batch is {folder}: no such folder; a folder of photos, or of sub-folders each with a photo.jpg, would be right");
        List<BatchScene> scenes = [.. Loose(folder, folder)];
        foreach (string inner in Directory.GetDirectories(folder).Order(StringComparer.Ordinal))
            scenes.AddRange(Loose(inner, folder).Where(s => Path.GetFileNameWithoutExtension(s.Files.Lit).Equals("photo", StringComparison.OrdinalIgnoreCase)).Select(s => s with { Name = Path.GetFileName(inner) }));
        return scenes.Count > 0
            ? scenes
            : throw new InputRefusedException($"--batch is {folder}: no photo lies in it; JPEG or PNG files, or sub-folders each with a photo.jpg, would be right");
    }

    private static IEnumerable<BatchScene> Loose(string folder, string root)
    {
        string[] files = [.. Directory.GetFiles(folder).Where(f => Is(f, Pictures) || Is(f, Foreign)).Order(StringComparer.Ordinal)];
        foreach (string file in files)
        {
            if (Companions.Any(c => IsCompanion(file, c, files)))
                continue;
            string? Beside(string ending) => files.FirstOrDefault(f => Stem(f).Equals(Stem(file) + ending, StringComparison.OrdinalIgnoreCase));
            string? turned = Beside("_turned");
            yield return new(Path.GetRelativePath(root, file), new(file)
            {
                Dark = Beside("_dark"),
                Off = Beside("_off"),
                Turned = turned,
                TurnedDark = turned is null ? null : Beside("_turned_dark"),
            });
        }
    }

    private static bool IsCompanion(string file, string ending, string[] files) =>
        Stem(file).EndsWith(ending, StringComparison.OrdinalIgnoreCase)
        && files.Any(f => Stem(f).Equals(Stem(file)[..^ending.Length], StringComparison.OrdinalIgnoreCase));

    private static string Stem(string file) => Path.GetFileNameWithoutExtension(file);

    private static bool Is(string file, string[] endings) => endings.Contains(Path.GetExtension(file), StringComparer.OrdinalIgnoreCase);
}
