using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Whetwright.Records.Backup;

namespace Whetwright.Web.Serving;

/// <summary>Closes the book and opens it again within one running program: what waits for a start, such as a restore, then takes effect at once.</summary>
/// <param name="lifetime">The application's.</param>
public sealed class ServeAgain(IHostApplicationLifetime lifetime)
{
    /// <summary>Somebody stands ready to open it again; where nobody does, what waits must wait for a start by hand.</summary>
    public bool Possible { get; private set; }

    /// <summary>It was asked for.</summary>
    public bool Asked { get; private set; }

    /// <summary>Closes the book once the answer that is being given was sent.</summary>
    public void Ask(HttpContext http)
    {
        Asked = true;
        http.Response.OnCompleted(() =>
        {
            lifetime.StopApplication();
            return Task.CompletedTask;
        });
    }

    /// <summary>Serves until it is stopped; opened again as often as asked for.</summary>
    /// <param name="build">Builds the application, ready to start.</param>
    /// <param name="started">Told each time it is up.</param>
    /// <param name="cancel">Stops it.</param>
    public static async Task ServeAsync(Func<Task<WebApplication>> build, Func<WebApplication, Task> started, CancellationToken cancel)
    {
        bool again;
        do
        {
            await using WebApplication app = await build();
            ServeAgain door = app.Services.GetRequiredService<ServeAgain>();
            door.Possible = true;
            await app.StartAsync(cancel);
            await started(app);
            await app.WaitForShutdownAsync(cancel);
            again = door.Asked && !cancel.IsCancellationRequested;
            app.Services.GetRequiredService<IBookSnapshot>().LetGo();
        }
        while (again);
    }
}
