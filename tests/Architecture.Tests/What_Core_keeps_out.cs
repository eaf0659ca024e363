using ArchUnitNET.Fluent;
using ArchUnitNET.xUnitV3;
using static ArchUnitNET.Fluent.ArchRuleDefinition;

namespace Whetwright.Architecture.Tests;

/// <summary>Core is pure: no files, no network, no clock, no tasks; its folders depend on each other one way only.</summary>
public sealed class What_Core_keeps_out
{
    [Theory]
    [InlineData("System.IO.File")]
    [InlineData("System.IO.FileStream")]
    [InlineData("System.IO.Directory")]
    [InlineData("System.Console")]
    [InlineData("System.Threading.Tasks.Task")]
    [InlineData("System.TimeProvider")]
    [InlineData("System.Diagnostics.Stopwatch")]
    [InlineData("System.Net.Http.HttpClient")]
    public void No_type_of_Core_uses_the_world_outside(string forbidden)
    {
        IEnumerable<string> users =
            from type in Assemblies.Product.Types
            where type.FullName.StartsWith("Whetwright.Core.", StringComparison.Ordinal)
            where type.Dependencies.Any(dependency => dependency.Target.FullName.StartsWith(forbidden, StringComparison.Ordinal))
            select type.FullName;

        Assert.Empty(users);
    }

    [Theory]
    [InlineData("Quantities", "Blades|Optics|Fixtures|Sections|PenTest|Abrasives|Metrology|Ordering|Visits|Targets")]
    [InlineData("Metrology", "Blades|Optics|Fixtures|Sections|PenTest|Abrasives|Ordering|Visits|Targets")]
    [InlineData("Blades", "Optics|Fixtures|Sections|PenTest|Abrasives|Ordering|Visits|Targets")]
    [InlineData("Optics", "Fixtures|Sections|PenTest|Abrasives|Ordering|Visits")]
    [InlineData("Fixtures", "Optics|PenTest|Ordering|Visits|Targets")]
    [InlineData("Sections", "Optics|Fixtures|Ordering|Visits|Targets")]
    public void A_folder_of_Core_knows_only_the_folders_below_it(string folder, string above)
    {
        IArchRule rule = Types().That().ResideInNamespaceMatching($@"^Whetwright\.Core\.{folder}(\..*)?$")
            .Should().NotDependOnAny(Types().That().ResideInNamespaceMatching($@"^Whetwright\.Core\.({above})(\..*)?$"))
            .WithoutRequiringPositiveResults();

        rule.Check(Assemblies.Product);
    }
}
