using System.Data.Common;

namespace Whetwright.Records;

/// <summary>Tells a full disk from other troubles.</summary>
public static class DiskFull
{
    /// <summary>What to say, to a person.</summary>
    public const string Words = "The disk that holds the book or its photos is full. Nothing of what you just sent was saved; everything saved before is safe. Free some space (old backups, other files), then send it again: what you typed is still in the form you came from.";

    /// <summary>True where a full disk is behind it: ENOSPC (28) and EDQUOT (122) of Linux, ERROR_DISK_FULL of Windows, SQLITE_FULL (13), SQLSTATE 53100.</summary>
    public static bool Is(Exception? e) => e is not null
        && (e is IOException { HResult: 28 or 122 or unchecked((int)0x80070070) or unchecked((int)0x80070027) }
            || e is DbException { SqlState: "53100" }
            || (e is DbException full && full.Message.Contains("database or disk is full", StringComparison.Ordinal))
            || Is(e.InnerException));
}
