using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Whetwright.Web.Doors;

/// <summary>The code that a new device types once.</summary>
/// <param name="Digits">Six digits.</param>
/// <param name="Name">What the device will be called.</param>
/// <param name="Role">What it will be allowed.</param>
/// <param name="Until">When the code dies.</param>
public sealed record PairCode(string Digits, string Name, Role Role, DateTimeOffset Until)
{
    /// <summary>As it is read out: 123 456.</summary>
    public string Shown => $"{Digits[..3]} {Digits[3..]}";
}

/// <summary>At most one code at a time, in memory alone: used once, for some minutes, and void after some wrong tries by anybody.</summary>
/// <param name="time">The time.</param>
/// <param name="limits">How patient.</param>
internal sealed class PairCodes(TimeProvider time, DoorLimits limits)
{
    private readonly Lock gate = new();
    private PairCode? code;
    private int wrong;

    /// <summary>The code that is open; null for none.</summary>
    public PairCode? Open
    {
        get
        {
            lock (gate)
                return code is not null && time.GetUtcNow() < code.Until ? code : null;
        }
    }

    /// <summary>Makes a code; one before it is void.</summary>
    public PairCode Make(string name, Role role)
    {
        lock (gate)
        {
            wrong = 0;
            return code = new(RandomNumberGenerator.GetInt32(1_000_000).ToString("D6", CultureInfo.InvariantCulture), name, role, time.GetUtcNow() + limits.CodeLives);
        }
    }

    /// <summary>Takes the code back.</summary>
    public void Void()
    {
        lock (gate)
            code = null;
    }

    /// <summary>Uses it up; null where it is not the one.</summary>
    public PairCode? Use(string typed)
    {
        string digits = string.Concat(typed.Where(char.IsAsciiDigit));
        lock (gate)
        {
            if (code is null || time.GetUtcNow() >= code.Until)
                return null;
            PairCode found = code;
            if (CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(digits), Encoding.ASCII.GetBytes(found.Digits)))
            {
                code = null;
                return found;
            }

            if (++wrong >= limits.WrongCodes)
                code = null;
            return null;
        }
    }
}
