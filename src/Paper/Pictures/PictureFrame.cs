using Whetwright.Core.Quantities;

namespace Whetwright.Paper.Pictures;

/// <summary>Fits a part of a world, y up or down, into a window of a drawing at one scale for both directions.</summary>
internal sealed class PictureFrame
{
    private readonly double originX;
    private readonly double originY;
    private readonly double signX;
    private readonly double signY;

    /// <summary>The largest scale at which the world's part fits the window, in its middle.</summary>
    internal PictureFrame(
        double worldLeft, double worldLow, double worldRight, double worldHigh, double x, double y, double width, double height, bool yUp, bool mirrored = false)
    {
        Scale = Math.Min(width / (worldRight - worldLeft), height / (worldHigh - worldLow));
        signX = mirrored ? -Scale : Scale;
        signY = yUp ? -Scale : Scale;
        originX = x + (width / 2) - (signX * (worldLeft + worldRight) / 2);
        originY = y + (height / 2) - (signY * (worldLow + worldHigh) / 2);
    }

    /// <summary>Drawing mm per world mm.</summary>
    internal double Scale { get; }

    /// <summary>A point of the world on the drawing.</summary>
    internal Point2 At(double x, double y) => new(originX + (signX * x), originY + (signY * y));

    /// <summary>A point of the world on the drawing.</summary>
    internal Point2 At(Point2 p) => At(p.X, p.Y);
}
