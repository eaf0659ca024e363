namespace Whetwright.Core.Quantities;

/// <summary>A vector of space; the frame is said by the name of what holds it.</summary>
public readonly record struct Vector3(double X, double Y, double Z)
{
    /// <summary>Length.</summary>
    public double Norm => Math.Sqrt(Dot(this));

    /// <summary>Inner product.</summary>
    public double Dot(Vector3 other) => (X * other.X) + (Y * other.Y) + (Z * other.Z);

    /// <summary>Cross product.</summary>
    public Vector3 Cross(Vector3 other) => new(
        (Y * other.Z) - (Z * other.Y),
        (Z * other.X) - (X * other.Z),
        (X * other.Y) - (Y * other.X));

    /// <summary>Sum.</summary>
    public static Vector3 operator +(Vector3 left, Vector3 right) => new(left.X + right.X, left.Y + right.Y, left.Z + right.Z);

    /// <summary>Difference.</summary>
    public static Vector3 operator -(Vector3 left, Vector3 right) => new(left.X - right.X, left.Y - right.Y, left.Z - right.Z);

    /// <summary>The opposite vector.</summary>
    public static Vector3 operator -(Vector3 vector) => new(-vector.X, -vector.Y, -vector.Z);

    /// <summary>Multiple.</summary>
    public static Vector3 operator *(Vector3 vector, double factor) => new(vector.X * factor, vector.Y * factor, vector.Z * factor);
}

/// <summary>A direction of space: a vector of length one. The default value is not a direction; make one by <c>From</c>.</summary>
public readonly record struct UnitVector3
{
    private UnitVector3(double x, double y, double z) => (X, Y, Z) = (x, y, z);

    /// <summary>First component.</summary>
    public double X { get; }

    /// <summary>Second component.</summary>
    public double Y { get; }

    /// <summary>Third component.</summary>
    public double Z { get; }

    /// <summary>The direction of a vector.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The vector has no length, or a component is not finite.</exception>
    public static UnitVector3 From(Vector3 vector)
    {
        double norm = vector.Norm;
        if (!(norm > 0) || !double.IsFinite(norm))
            throw new ArgumentOutOfRangeException(nameof(vector), vector, "Must have a finite length above zero.");
        return new(vector.X / norm, vector.Y / norm, vector.Z / norm);
    }

    /// <summary>The direction of a vector given by its components.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The vector has no length, or a component is not finite.</exception>
    public static UnitVector3 From(double x, double y, double z) => From(new Vector3(x, y, z));

    /// <summary>The same, as a plain vector.</summary>
    public Vector3 AsVector() => new(X, Y, Z);

    /// <summary>Inner product: the cosine of the angle between the two.</summary>
    public double Dot(UnitVector3 other) => (X * other.X) + (Y * other.Y) + (Z * other.Z);

    /// <summary>The angle to another direction, 0 to 180°, exact also where the two nearly agree (W. Kahan's form of atan2).</summary>
    public Angle AngleTo(UnitVector3 other) =>
        Angle.FromRadians(2 * Math.Atan2((AsVector() - other.AsVector()).Norm, (AsVector() + other.AsVector()).Norm));

    /// <summary>The opposite direction.</summary>
    public static UnitVector3 operator -(UnitVector3 direction) => new(-direction.X, -direction.Y, -direction.Z);
}
