using System.Runtime.InteropServices;

namespace Whetwright.Records;

/// <summary>A folder as the disk sees it.</summary>
public static class DiskFolder
{
    /// <summary>Puts a folder's new names on the disk, so that a file renamed into it is still there after a power cut. Windows keeps names with the files: nothing to do.</summary>
    public static void Flush(string folder)
    {
        if (OperatingSystem.IsWindows())
            return;
        int handle = Open(folder, 0);
        if (handle < 0)
            throw new IOException($"The folder {folder} cannot be opened to put its names on the disk (error {Marshal.GetLastPInvokeError()}).");
        try
        {
            // Some network file systems cannot do this for folders; the rename itself is atomic there all the same.
            _ = FSync(handle);
        }
        finally
        {
            _ = Close(handle);
        }
    }

#pragma warning disable SYSLIB1054, CA2101 // plain declarations spare the whole project its unsafe switch; paths are UTF-8 on these systems
    [DllImport("libc", EntryPoint = "open", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    private static extern int Open([MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags);

    [DllImport("libc", EntryPoint = "fsync"), DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    private static extern int FSync(int handle);

    [DllImport("libc", EntryPoint = "close"), DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    private static extern int Close(int handle);
#pragma warning restore SYSLIB1054, CA2101
}
