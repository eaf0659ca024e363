using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>Draws how a photograph is taken: the hand, the light, the phone.</summary>
internal sealed class ShotDraw(Difficulty difficulty, Dice dice, MarkRanges ranges)
{
    public Shot Draw(string colour)
    {
        bool portrait = dice.Chance(0.5);
        double warm = dice.Between(-0.12, 0.3);
        int orientation = portrait ? dice.Pick<int>([6, 6, 8]) : dice.Pick<int>([1, 1, 3]);
        return new()
        {
            Portrait = portrait,
            ExifOrientation = orientation,
            ExifWritten = difficulty == Difficulty.Easy || !dice.Chance(0.25),
            TiltXDeg = dice.Between(-1, 1) * ranges.TiltMostDeg,
            TiltYDeg = dice.Between(-0.5, 0.5) * ranges.TiltMostDeg,
            RollDeg = dice.Between(-0.35, 0.35) * ranges.TiltMostDeg,
            F35Mm = dice.Between(23.5, 29),
            K1 = dice.Between(-1, 1) * ranges.LensMost,
            K2 = dice.Between(-0.35, 0.35) * ranges.LensMost,
            Fill = dice.Between(0.72, 0.94),
            AimMm = new(dice.Between(-8, 8), dice.Between(-8, 8)),
            AmbientLux = dice.LogIn(ranges.AmbientLux),
            Ev = dice.In(ranges.Exposure),
            AmbientRgb = new(1 + warm, 1, 1 - (warm * dice.Between(0.5, 1.3))),
            LaserRgb = colour == "green"
                ? new(dice.Between(0.03, 0.35), 1, dice.Between(0.05, 0.35))
                : new(1, dice.Between(0.03, 0.2), dice.Between(0.01, 0.12)),
            Gradient = new(dice.Between(-1, 1) * ranges.GradientMost, dice.Between(-1, 1) * ranges.GradientMost),
            Vignetting = dice.Between(0.1, 0.5),
            DefocusPx12 = dice.In(ranges.Defocus),
            MotionPx12 = dice.In(ranges.Motion),
            MotionDeg = dice.Between(0, 180),
            Bloom = new(dice.Between(0.008, 0.042), dice.Between(0.004, 0.014)),
            BloomPx12 = new(dice.Between(9, 27), dice.Between(100, 250)),
            Denoise = dice.Between(0.25, 0.95),
            Sharpen = dice.Between(0, 0.6),
            Contrast = dice.Between(0, 0.25),
            JpegQuality = (int)dice.Between(78, 96),
            BenchBrightness = dice.Between(0.05, 0.6),
        };
    }
}
