using Whetwright.Core.Quantities;

namespace Whetwright.Workbench.Photos;

/// <summary>Photographs need a native library that the system may lack; everything else runs without it.</summary>
public static class PictureLibrary
{
    /// <summary>Why no photo can be read, and what to install.</summary>
    public static Reason Missing { get; } = new("native-library-missing", OperatingSystem.IsLinux()
        ? "Photographs cannot be read here: the picture library or one that it needs is missing. On Debian or Ubuntu: apt-get install libgtk-3-0 libdrm2 libatomic1 (newer releases may call the first libgtk-3-0t64)."
        : "Photographs cannot be read here: this build holds the picture library for Linux on x64 only. Marks read by eye work everywhere: read --marks marks.json.");

    /// <summary>Whether an exception says that the library could not be loaded, however deep it is wrapped.</summary>
    public static bool IsMissing(Exception exception)
    {
        for (Exception? e = exception; e is not null; e = e.InnerException)
        {
            if (e is DllNotFoundException or BadImageFormatException)
                return true;
        }

        return false;
    }
}
