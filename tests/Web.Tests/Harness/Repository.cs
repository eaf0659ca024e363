namespace Whetwright.Web.Tests.Harness;

/// <summary>Folders of the repository.</summary>
internal static class Repository
{
    /// <summary>Its root: the folder with the solution.</summary>
    public static string Root { get; } = Find();

    /// <summary>Where screenshots go, for people to look at; not kept in the repository.</summary>
    public static string Screens { get; } = Directory.CreateDirectory(Path.Combine(Root, "artifacts", "screens")).FullName;

    private static string Find()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Whetwright.slnx")))
                return folder.FullName;
        }

        throw new DirectoryNotFoundException("No folder above the tests holds Whetwright.slnx.");
    }
}
