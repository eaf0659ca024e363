using System.Reflection;
using ArchUnitNET.Loader;

namespace Whetwright.Architecture.Tests;

/// <summary>The product's assemblies, loaded once for all rules.</summary>
internal static class Assemblies
{
    internal static readonly Assembly Core = typeof(Core.Quantities.Angle).Assembly;
    internal static readonly Assembly Formats = Assembly.Load("Whetwright.Formats");
    internal static readonly Assembly Paper = Assembly.Load("Whetwright.Paper");
    internal static readonly Assembly Sight = Assembly.Load("Whetwright.Sight");
    internal static readonly Assembly Web = Assembly.Load("Whetwright.Web");
    internal static readonly Assembly Cli = Assembly.Load("whetwright");

    internal static readonly ArchUnitNET.Domain.Architecture Product =
        new ArchLoader().LoadAssemblies(Core, Formats, Paper, Sight, Web, Cli).Build();
}
