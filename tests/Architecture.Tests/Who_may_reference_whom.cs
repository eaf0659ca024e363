using System.Reflection;

namespace Whetwright.Architecture.Tests;

/// <summary>Arrows point towards Core and never back (decision 0001).</summary>
public sealed class Who_may_reference_whom
{
    /// <summary>What a model needs that any database can hold: no provider among it.</summary>
    private static readonly string[] EntityFramework =
    [
        "Microsoft.EntityFrameworkCore", "Microsoft.EntityFrameworkCore.Abstractions", "Microsoft.EntityFrameworkCore.Relational",
        "Microsoft.Extensions.DependencyInjection.Abstractions",
    ];

    /// <summary>The log, and metrics and traces where they are switched on.</summary>
    private static readonly string[] Watching =
    [
        "Serilog", "Serilog.Extensions.Logging", "Serilog.Formatting.Compact", "Serilog.Sinks.Console", "Serilog.Sinks.File",
        "OpenTelemetry", "OpenTelemetry.Api", "OpenTelemetry.Api.ProviderBuilderExtensions", "OpenTelemetry.Extensions.Hosting", "OpenTelemetry.Exporter.OpenTelemetryProtocol", "OpenTelemetry.Instrumentation.AspNetCore",
    ];

    public static TheoryData<string, string[]> Allowed => new()
    {
        { "Whetwright.Core", [] },
        { "Whetwright.Formats", ["Whetwright.Core"] },
        { "Whetwright.Paper", ["Whetwright.Core", "PdfSharp", "PdfSharp.System", "PdfSharp.Shared", "PdfSharp.WPFonts", "QRCoder"] },
        { "Whetwright.Sight", ["Whetwright.Core", "OpenCvSharp"] },
        { "Whetwright.Web", ["Whetwright.Core", "Whetwright.Formats", "Whetwright.Paper", "Whetwright.Sight", "Whetwright.Records", "Whetwright.Records.Postgres", "Whetwright.Workbench", "Microsoft.EntityFrameworkCore", "Microsoft.Net.Http.Headers", "Ical.Net", "Microsoft.OpenApi", .. Watching] },
        { "whetwright", ["Whetwright.Workbench", "Whetwright.Core", "Whetwright.Formats", "Whetwright.Paper", "Whetwright.Sight", "Whetwright.Records", "Whetwright.Records.Sqlite", "Whetwright.Records.Postgres", "Whetwright.Web", "System.CommandLine", "Microsoft.EntityFrameworkCore", "Microsoft.OpenApi"] },
        { "Whetwright.Records", ["Whetwright.Core", .. EntityFramework] },
        { "Whetwright.Records.Sqlite", ["Whetwright.Core", "Whetwright.Records", "Microsoft.Data.Sqlite", "Microsoft.EntityFrameworkCore.Sqlite", .. EntityFramework] },
        { "Whetwright.Records.Postgres", ["Whetwright.Core", "Whetwright.Records", "Whetwright.Records.Sqlite", "Npgsql", "Npgsql.EntityFrameworkCore.PostgreSQL", .. EntityFramework] },
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

    [Theory]
    [InlineData("Whetwright.Core")]
    [InlineData("Whetwright.Formats")]
    [InlineData("Whetwright.Paper")]
    [InlineData("Whetwright.Sight")]
    [InlineData("Whetwright.Records")]
    [InlineData("Whetwright.Workbench")]
    [InlineData("Whetwright.Web")]
    [InlineData("whetwright")]
    public void Only_the_records_own_doors_know_a_database(string assembly)
    {
        IEnumerable<string> providers = Assembly.Load(assembly).GetReferencedAssemblies()
            .Select(reference => reference.Name!)
            .Where(name => name is "Microsoft.EntityFrameworkCore.Sqlite" or "Microsoft.Data.Sqlite" || name.StartsWith("Npgsql", StringComparison.Ordinal));

        Assert.Empty(providers);
    }

    [Theory]
    [InlineData("Whetwright.Core")]
    [InlineData("Whetwright.Formats")]
    [InlineData("Whetwright.Paper")]
    [InlineData("Whetwright.Sight")]
    [InlineData("Whetwright.Records")]
    [InlineData("Whetwright.Records.Sqlite")]
    [InlineData("Whetwright.Workbench")]
    public void Only_the_command_line_starts_the_web_face(string assembly) =>
        Assert.DoesNotContain("Whetwright.Web", Assembly.Load(assembly).GetReferencedAssemblies().Select(reference => reference.Name));
}
