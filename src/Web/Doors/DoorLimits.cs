namespace Whetwright.Web.Doors;

/// <summary>How patient the doors are. Chosen, not derived, except where a source is named.</summary>
public sealed record DoorLimits
{
    /// <summary>Shortest passphrase, characters: OWASP ASVS 4.0.3, 2.1.1.</summary>
    public const int ShortestPassphrase = 12;

    /// <summary>Longest passphrase, characters: at least 64 must be taken (ASVS 2.1.2).</summary>
    public const int LongestPassphrase = 128;

    /// <summary>How long a pairing code lives.</summary>
    public TimeSpan CodeLives { get; init; } = TimeSpan.FromMinutes(5);

    /// <summary>Wrong codes after which the code shown is void.</summary>
    public int WrongCodes { get; init; } = 5;

    /// <summary>Wrong passphrases from one address after which it is locked out.</summary>
    public int WrongPassphrases { get; init; } = 5;

    /// <summary>How long it is locked out.</summary>
    public TimeSpan LockedOut { get; init; } = TimeSpan.FromMinutes(15);

    /// <summary>Wrong passphrases from all addresses of the network together after which the passphrase is taken only at the machine, for the same time.</summary>
    public int WrongFromAnywhere { get; init; } = 50;

    /// <summary>Tries to sign in per minute and address.</summary>
    public int SignInsPerMinute { get; init; } = 20;

    /// <summary>Requests per second and address, lasting.</summary>
    public int PerSecond { get; init; } = 100;

    /// <summary>Requests at once and address, above which they are told to wait.</summary>
    public int Burst { get; init; } = 400;

    /// <summary>A paired device that was not seen for so long is asked again (ASVS 3.3.2: 30 days).</summary>
    public TimeSpan DeviceIdle { get; init; } = TimeSpan.FromDays(30);

    /// <summary>A master who signed in by the passphrase is asked again after this.</summary>
    public TimeSpan PassphraseLasts { get; init; } = TimeSpan.FromHours(12);
}
