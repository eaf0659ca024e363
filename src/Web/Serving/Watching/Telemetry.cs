using Microsoft.Extensions.DependencyInjection;
using OpenTelemetry.Exporter;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace Whetwright.Web.Serving.Watching;

/// <summary>Metrics and traces by OpenTelemetry, where a place to send them was given; otherwise nothing of it is even loaded.</summary>
internal static class Telemetry
{
    public static void AddTelemetry(this IServiceCollection services, ServeOptions options)
    {
        if (options.Telemetry is { } to)
            Add(services, to);
    }

    private static void Add(IServiceCollection services, Uri to) => services.AddOpenTelemetry()
        .ConfigureResource(resource => resource.AddService("whetwright"))
        .WithTracing(traces => traces
            .AddAspNetCoreInstrumentation(asp => asp.Filter = http => !http.Request.Path.StartsWithSegments("/_a", StringComparison.Ordinal))
            .AddOtlpExporter(otlp => Point(otlp, to, "v1/traces")))
        .WithMetrics(metrics => metrics
            .AddMeter("Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel", "Microsoft.AspNetCore.RateLimiting", "System.Runtime")
            .AddOtlpExporter(otlp => Point(otlp, to, "v1/metrics")));

    private static void Point(OtlpExporterOptions otlp, Uri to, string path)
    {
        otlp.Protocol = OtlpExportProtocol.HttpProtobuf;
        otlp.Endpoint = new Uri(to.ToString().TrimEnd('/') + "/" + path);
    }
}
