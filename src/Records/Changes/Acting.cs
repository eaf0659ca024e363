namespace Whetwright.Records.Changes;

/// <summary>Who acts while a request is served. Where nobody is named (the command line, imports of a demo) nothing is written into the list of changes.</summary>
/// <param name="Name">Name of the device or program; null for the master at the machine.</param>
/// <param name="RequestId">The request, as the log has it.</param>
public sealed record Acting(string? Name, string? RequestId)
{
    private static readonly AsyncLocal<Acting?> Flow = new();

    /// <summary>Who acts now; null where nobody was named.</summary>
    public static Acting? Now => Flow.Value;

    /// <summary>Names who acts from here on, in this flow of calls and in all that it starts.</summary>
    public static void Begin(Acting? acting) => Flow.Value = acting;
}
