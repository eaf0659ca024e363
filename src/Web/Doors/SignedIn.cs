namespace Whetwright.Web.Doors;

/// <summary>A device or program that was let in.</summary>
public sealed record SignedIn
{
    /// <summary>Names it; not secret.</summary>
    public required string Id { get; init; }

    /// <summary>What the master called it.</summary>
    public required string Name { get; init; }

    /// <summary>What it may do.</summary>
    public required Role Role { get; init; }

    /// <summary>When it was let in.</summary>
    public required DateTimeOffset Since { get; init; }

    /// <summary>When it was last seen, to some minutes.</summary>
    public required DateTimeOffset LastSeen { get; init; }

    /// <summary>When it is asked again whatever happens; null for a device, which is asked again only when it was idle for long.</summary>
    public DateTimeOffset? Until { get; init; }

    /// <summary>When the master sent it away.</summary>
    public DateTimeOffset? Revoked { get; init; }

    /// <summary>For a program: SHA-256 of its token of 256 random bits.</summary>
    public string? TokenHash { get; init; }

    /// <summary>It still opens the door.</summary>
    public bool IsIn(DateTimeOffset now, DoorLimits limits) =>
        Revoked is null && (Until is not { } until || now < until) && (Role == Role.Program || now - LastSeen < limits.DeviceIdle);
}

/// <summary>What <c>doors.json</c> holds.</summary>
/// <param name="PassphraseHash">As ASP.NET Core Identity's hasher writes it; null until one is set.</param>
/// <param name="Devices">Devices and programs, the oldest first.</param>
public sealed record DoorState(string? PassphraseHash, IReadOnlyList<SignedIn> Devices);
