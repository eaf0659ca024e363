using System.Security.Cryptography.X509Certificates;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Whetwright.Records;
using Whetwright.Records.Postgres;
using Whetwright.Web.Serving.Watching;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Serving;

/// <summary>The web face: builds the application, ready to start. <c>serve</c> and the tests both begin here.</summary>
public static class WebShop
{
    /// <summary>Builds it; the data folder is made where it is missing.</summary>
    /// <param name="options">Where the book lies and where to listen.</param>
    /// <param name="adjust">For tests: more services, another log.</param>
    /// <param name="more">For tests: more addresses.</param>
    public static async Task<WebApplication> BuildAsync(
        ServeOptions options, Action<WebApplicationBuilder>? adjust = null, Action<WebApplication>? more = null)
    {
        string folder = Directory.CreateDirectory(options.DataFolder).FullName;
        Opening.Check(options);
        X509Certificate2? certificate = Opening.Certificate(options);
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(WebShop).Assembly.GetName().Name,
            ContentRootPath = folder,
            EnvironmentName = Environments.Production,
        });
        builder.WebHost.UseKestrelHttpsConfiguration();
        builder.WebHost.UseUrls([.. options.Urls]);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            // Above the limit of our forms, so that a form too large is answered with the limit and not with a broken connection.
            kestrel.Limits.MaxRequestBodySize = 4L * PhotoField.MaxFormBytes;
            kestrel.Limits.MaxConcurrentConnections = 1000; // chosen, not derived: twenty devices with their browsers fit many times
            if (certificate is not null)
                kestrel.ConfigureHttpsDefaults(https => https.ServerCertificate = certificate);
        });
        builder.Logging.AddShopLog(folder);
        builder.Services.Configure<FormOptions>(form =>
        {
            form.MultipartBodyLengthLimit = PhotoField.MaxFormBytes;
            form.ValueCountLimit = 4096;
            form.ValueLengthLimit = 1 << 20;
        });
        builder.Services.AddDataProtection()
            .SetApplicationName("Whetwright")
            .PersistKeysToFileSystem(KeyFolder(folder));
        builder.Services.AddAntiforgery(antiforgery =>
        {
            antiforgery.Cookie.Name = "ww-form";
            antiforgery.Cookie.SameSite = SameSiteMode.Strict;
            antiforgery.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            antiforgery.FormFieldName = "_form";
            antiforgery.SuppressXFrameOptionsHeader = true;
        });
        builder.Services.AddRazorComponents();
        builder.Services.AddResponseCompression(compression =>
        {
            // The antiforgery token is masked anew on every page, so that the compressed size gives nothing of it away.
            compression.EnableForHttps = true;
            compression.MimeTypes = ["text/html", "text/csv", "application/json", "image/svg+xml", "text/calendar"];
        });
        builder.Services.AddTelemetry(options);
        builder.Services.AddSingleton(options);
        builder.Services.AddSingleton<SiteAssets>();
        builder.Services.AddSingleton<ServeAgain>();
        builder.Services.AddChosenBook(BookSettings.Options(folder, options.Book));
        builder.Services.AddRooms(options);
        adjust?.Invoke(builder);

        WebApplication app = builder.Build();
        app.UseResponseCompression();
        app.UseGuards(options);

        app.Services.GetRequiredService<SiteAssets>().Map(app);
        app.MapRooms();
        app.MapGet("/health", Health.AskAsync);
        more?.Invoke(app);
        await PendingRestore.TakeAsync(app.Services, folder);
        await app.Services.OpenBookAsync();
        return app;
    }

    private static DirectoryInfo KeyFolder(string folder)
    {
        string keys = Path.Combine(folder, "keys");
        return OperatingSystem.IsWindows()
            ? Directory.CreateDirectory(keys)
            : Directory.CreateDirectory(keys, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }
}
