using System.Numerics;
using Whetwright.Core.Targets;

namespace Whetwright.Core.Tests.Targets;

/// <summary>
/// The dictionary 4x4_50. Source: OpenCV's predefined dictionary, Apache-2.0. That a detector built on OpenCV finds the printed sheets is tested where
/// OpenCV lives; here are the table's own marks of soundness.
/// </summary>
public sealed class KnownFiducialsTests
{
    [Fact]
    public void Id_0_is_the_picture_that_OpenCV_draws()
    {
        // Read off the picture that OpenCV 4.13 draws of id 0 at one pixel per module.
        string[] drawn = ["......", ".#.##.", "..#.#.", "...##.", "...#..", "......"];

        for (int row = 0; row < 6; row++)
        {
            for (int column = 0; column < 6; column++)
                Assert.Equal(drawn[row][column] == '#', KnownFiducials.IsWhite(0, row, column));
        }
    }

    [Fact]
    public void No_two_codes_come_nearer_than_four_modules_in_any_turn()
    {
        // Smallest Hamming distance of the dictionary's first fifty codes over the four turns: 4 [garrido-jurado 2014, memory; recomputed here].
        int least = 16;
        for (int a = 0; a < KnownFiducials.Count; a++)
        {
            for (int b = 0; b < KnownFiducials.Count; b++)
            {
                int turned = KnownFiducials.InnerBits(b);
                for (int turn = 0; turn < 4; turn++)
                {
                    if (a != b || turn != 0)
                        least = Math.Min(least, BitOperations.PopCount((uint)(KnownFiducials.InnerBits(a) ^ turned)));
                    turned = Turned(turned);
                }
            }
        }

        Assert.Equal(4, least);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(50)]
    public void An_id_outside_the_dictionary_is_refused(int id) => Assert.Throws<ArgumentOutOfRangeException>(() => KnownFiducials.InnerBits(id));

    private static int Turned(int bits)
    {
        int turned = 0;
        for (int row = 0; row < 4; row++)
        {
            for (int column = 0; column < 4; column++)
            {
                if (((bits >> (15 - ((row * 4) + column))) & 1) == 1)
                    turned |= 1 << (15 - ((column * 4) + 3 - row));
            }
        }

        return turned;
    }
}
