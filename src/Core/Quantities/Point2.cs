namespace Whetwright.Core.Quantities;

/// <summary>A point of a plane, in millimetres; the frame is said by the name of what holds it.</summary>
public readonly record struct Point2(double X, double Y)
{
    /// <summary>Straight-line distance to another point, mm.</summary>
    public double DistanceTo(Point2 other) => Math.Sqrt(((other.X - X) * (other.X - X)) + ((other.Y - Y) * (other.Y - Y)));

    /// <summary>From one point to another.</summary>
    public static Vector2 operator -(Point2 to, Point2 from) => new(to.X - from.X, to.Y - from.Y);

    /// <summary>A point moved by a vector.</summary>
    public static Point2 operator +(Point2 point, Vector2 by) => new(point.X + by.X, point.Y + by.Y);
}

/// <summary>A vector of a plane.</summary>
public readonly record struct Vector2(double X, double Y)
{
    /// <summary>Length.</summary>
    public double Norm => Math.Sqrt((X * X) + (Y * Y));

    /// <summary>Inner product.</summary>
    public double Dot(Vector2 other) => (X * other.X) + (Y * other.Y);

    /// <summary>z of the cross product: positive where <paramref name="other"/> lies counter-clockwise in a right-handed plane.</summary>
    public double Cross(Vector2 other) => (X * other.Y) - (Y * other.X);

    /// <summary>The vector of length one in the same direction.</summary>
    /// <exception cref="InvalidOperationException">The zero vector has no direction.</exception>
    public Vector2 Normalized()
    {
        double norm = Norm;
        if (!(norm > 0) || !double.IsFinite(norm))
            throw new InvalidOperationException("A vector of no length has no direction.");
        return new(X / norm, Y / norm);
    }

    /// <summary>Sum.</summary>
    public static Vector2 operator +(Vector2 left, Vector2 right) => new(left.X + right.X, left.Y + right.Y);

    /// <summary>Difference.</summary>
    public static Vector2 operator -(Vector2 left, Vector2 right) => new(left.X - right.X, left.Y - right.Y);

    /// <summary>Multiple.</summary>
    public static Vector2 operator *(Vector2 vector, double factor) => new(vector.X * factor, vector.Y * factor);
}
