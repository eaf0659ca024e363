using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Backup;

namespace Whetwright.Web.Serving;

/// <summary>A backup that was looked through by the browser and waits: only a program that is starting has the book to itself.</summary>
internal static class PendingRestore
{
    /// <summary>Where it waits.</summary>
    public static string Place(string dataFolder) => Path.Combine(dataFolder, "restore-at-start.zip");

    /// <summary>Why the last one was not put in place.</summary>
    public static string WhyNot(string dataFolder) => Path.Combine(dataFolder, "restore-refused.txt");

    /// <summary>Puts it in place where one waits, before the book is opened. A damaged one is set aside and the book stays as it is.</summary>
    public static async Task TakeAsync(IServiceProvider services, string dataFolder)
    {
        string file = Place(dataFolder);
        if (!File.Exists(file))
            return;
        try
        {
            await services.GetRequiredService<BookBackup>().RestoreAsync(file);
            File.Delete(file);
            File.Delete(WhyNot(dataFolder));
        }
        catch (BackupRefusedException e)
        {
            File.Move(file, file + ".refused", overwrite: true);
            await File.WriteAllTextAsync(WhyNot(dataFolder), e.Message);
        }
    }
}
