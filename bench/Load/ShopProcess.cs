using System.Diagnostics;

namespace Whetwright.Load;

/// <summary>The shop in a process of its own, so that its memory can be told from ours.</summary>
internal sealed class ShopProcess : IAsyncDisposable
{
    private readonly Process process;

    private ShopProcess(Process process, string address)
    {
        this.process = process;
        Address = address;
    }

    /// <summary>Where it listens.</summary>
    public string Address { get; }

    /// <summary>Memory that it holds, MB.</summary>
    public double MemoryMb
    {
        get
        {
            process.Refresh();
            return process.HasExited ? double.NaN : process.WorkingSet64 / 1048576.0;
        }
    }

    /// <summary>It still runs.</summary>
    public bool Runs => !process.HasExited;

    public static async Task<ShopProcess> StartAsync(string folder)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "Whetwright.Load.dll");
        Process started = Process.Start(new ProcessStartInfo("dotnet", ["exec", program, "serve", folder]) { RedirectStandardOutput = true, RedirectStandardInput = true, UseShellExecute = false })!;
        string address = await started.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException("The shop did not start.");
        return new(started, address);
    }

    public HttpClient Client() => new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = true }) { BaseAddress = new Uri(Address), Timeout = TimeSpan.FromMinutes(2) };

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            process.StandardInput.Close(); // the shop ends when nobody listens any more
            using CancellationTokenSource limit = new(TimeSpan.FromSeconds(20));
            try
            {
                await process.WaitForExitAsync(limit.Token);
            }
            catch (OperationCanceledException)
            {
                process.Kill();
            }
        }

        process.Dispose();
    }
}
