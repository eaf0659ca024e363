namespace Whetwright.Cli.Terminal;

/// <summary>Files that are there whole or not at all: written beside the target under another name, then renamed over it.</summary>
public static class AtomicFile
{
    /// <summary>Writes bytes.</summary>
    public static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        string full = Path.GetFullPath(path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        string temporary = $"{full}.{Path.GetRandomFileName()}.part";
        try
        {
            using (var stream = new FileStream(temporary, FileMode.CreateNew, FileAccess.Write))
            {
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, full, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    /// <summary>Writes text as UTF-8.</summary>
    public static void Write(string path, string text) => Write(path, System.Text.Encoding.UTF8.GetBytes(text));
}
