using System.Globalization;
using Microsoft.Extensions.Logging;
using Serilog;
using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting.Compact;

namespace Whetwright.Web.Serving.Watching;

/// <summary>
/// The log: one JSON document per line in <c>logs</c> of the data folder, a file a day, kept for a month; warnings and worse on standard error, too.
/// Exceptions are kept by kind and place, without their messages: those may quote what somebody typed.
/// </summary>
internal static class ShopLog
{
    /// <summary>Name of the folder.</summary>
    public const string FolderName = "logs";

    private const int Days = 31; // kept: chosen, not derived
    private const long MostBytes = 50L * 1024 * 1024; // a day: chosen, not derived

    public static void AddShopLog(this ILoggingBuilder logging, string dataFolder)
    {
        logging.ClearProviders();
        Logger sinks = new LoggerConfiguration()
            .MinimumLevel.Verbose() // the outer one decides
            .WriteTo.File(new CompactJsonFormatter(), Path.Combine(dataFolder, FolderName, "whetwright-.jsonl"),
                rollingInterval: RollingInterval.Day, retainedFileCountLimit: Days, fileSizeLimitBytes: MostBytes, rollOnFileSizeLimit: false, shared: true)
            .WriteTo.Console(LogEventLevel.Warning, "{Timestamp:HH:mm:ss} {Level:u4} {Message:lj} {Fault}{NewLine}", CultureInfo.InvariantCulture, standardErrorFromLevel: LogEventLevel.Verbose)
            .CreateLogger();
        Logger whole = new LoggerConfiguration()
            .MinimumLevel.Warning()
            .MinimumLevel.Override("Whetwright", LogEventLevel.Information)
            // The keys guard forms and sign-ins on the shop's own machine; they lie in the data folder, readable by its owner alone, and need no second lock.
            .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
            // Quotes the messages of exceptions; what fails because of the book is told by the page that failed.
            .MinimumLevel.Override("Microsoft.EntityFrameworkCore", LogEventLevel.Fatal)
            .WriteTo.Sink(new WithoutMessages(sinks))
            .CreateLogger();
        logging.AddSerilog(whole, dispose: true);
    }

    /// <summary>Passes events on with the kinds and places of their exceptions in place of the exceptions.</summary>
    private sealed class WithoutMessages(Logger to) : ILogEventSink, IDisposable
    {
        public void Emit(LogEvent logEvent)
        {
            logEvent.RemovePropertyIfPresent("RequestPath"); // the framework's: as it was typed
            if (logEvent.Exception is not { } fault)
            {
                to.Write(logEvent);
                return;
            }

            List<string> lines = [];
            for (Exception? e = fault; e is not null && lines.Count < 20; e = e.InnerException)
                lines.Add($"{e.GetType().FullName}{Environment.NewLine}{e.StackTrace}");
            LogEventProperty told = new("Fault", new ScalarValue(string.Join(Environment.NewLine, lines)));
            to.Write(new LogEvent(logEvent.Timestamp, logEvent.Level, null, logEvent.MessageTemplate, logEvent.Properties.Select(p => new LogEventProperty(p.Key, p.Value)).Append(told)));
        }

        public void Dispose() => to.Dispose();
    }
}
