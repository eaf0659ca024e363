using System.Reflection;

namespace Whetwright.Architecture.Tests;

/// <summary>Arrows point towards Core and never back (decision 0001).</summary>
public sealed class Who_may_reference_whom
{
    public static TheoryData<string, string[]> Allowed => new()
    {
        { "Whetwright.Core", [] },
        { "Whetwright.Formats", ["Whetwright.Core"] },
        { "Whetwright.Paper", ["Whetwright.Core", "PdfSharp", "PdfSharp.System", "PdfSharp.Shared", "PdfSharp.WPFonts"] },
        { "Whetwright.Sight", ["Whetwright.Core", "OpenCvSharp"] },
        { "Whetwright.Web", ["Whetwright.Core", "Whetwright.Formats", "Whetwright.Paper", "Whetwright.Sight", "Whetwright.Records", "Whetwright.Records.Sqlite", "Whetwright.Workbench", "Microsoft.EntityFrameworkCore"] },
        { "whetwright", ["Whetwright.Workbench", "Whetwright.Core", "Whetwright.Formats", "Whetwright.Paper", "Whetwright.Sight", "Whetwright.Web", "System.CommandLine"] },
    };

    [Theory]
    [MemberData(nameof(Allowed))]
    public void An_assembly_references_only_what_its_place_allows(string assembly, string[] allowed)
    {
        IEnumerable<string> foreign = Assembly.Load(assembly).GetReferencedAssemblies()
            .Select(reference => reference.Name!)
            .Where(name => !name.StartsWith("System.", StringComparison.Ordinal) || name == "System.CommandLine")
            .Where(name => name is not "netstandard" and not "mscorlib")
            .Where(name => assembly is not ("Whetwright.Web" or "whetwright") || !name.StartsWith("Microsoft.AspNetCore", StringComparison.Ordinal) && !name.StartsWith("Microsoft.Extensions.", StringComparison.Ordinal))
            .Except(allowed, StringComparer.Ordinal);

        Assert.Empty(foreign);
    }
}
