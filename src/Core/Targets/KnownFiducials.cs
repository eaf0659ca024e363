namespace Whetwright.Core.Targets;

/// <summary>
/// The printed corner codes: a black border one module wide around 4 × 4 modules, six modules across in all.
/// Source: OpenCV's predefined dictionary 4x4_50, Apache-2.0 [opencv-aruco]; drawn by OpenCV 4.13 at one pixel per module and read off.
/// </summary>
public static class KnownFiducials
{
    /// <summary>Name of the dictionary in files.</summary>
    public const string Dictionary = "4x4_50";

    /// <summary>Modules across, border and all.</summary>
    public const int ModulesAcross = 6;

    // Sixteen bits each, the top left module first, along the rows; 1 is white.
    private static readonly ushort[] Bits =
    [
        0xB532, 0x0F9A, 0x332D, 0x9946, 0x549E, 0x79CD, 0x9E2E, 0xC4F2, 0xFEDA, 0xCF56,
        0xF991, 0x11A7, 0x0EB7, 0x2A0F, 0x24B1, 0x263E, 0x4665, 0x6600, 0x6C5E, 0x76AF,
        0x868B, 0xB02B, 0xCCD5, 0xDD82, 0xFE47, 0x9471, 0xACE4, 0xA554, 0x2123, 0x346F,
        0x4415, 0x57B2, 0x9ECF, 0xF0CB, 0x08AE, 0x0929, 0x1875, 0x04FF, 0x0DF6, 0x1C5A,
        0x1718, 0x2A28, 0x328C, 0x38B2, 0x24E8, 0x2EEB, 0x2D3F, 0x4B64, 0x502E, 0x5013,
    ];

    /// <summary>How many ids there are: 0 to 49.</summary>
    public static int Count => Bits.Length;

    /// <summary>The sixteen inner modules, top left first, along the rows; a set bit is white.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such id.</exception>
    public static int InnerBits(int id) =>
        id >= 0 && id < Bits.Length ? Bits[id] : throw new ArgumentOutOfRangeException(nameof(id), id, "Must be 0 to 49.");

    /// <summary>Whether a module is white; row and column count from the top left, border and all, 0 to 5.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such id or module.</exception>
    public static bool IsWhite(int id, int row, int column)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(row);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(row, ModulesAcross);
        ArgumentOutOfRangeException.ThrowIfNegative(column);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(column, ModulesAcross);
        int bits = InnerBits(id);
        return row is > 0 and < 5 && column is > 0 and < 5 && ((bits >> (15 - (((row - 1) * 4) + column - 1))) & 1) == 1;
    }
}
