using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Marks;

/// <summary>A turn of space: the images of the three axes.</summary>
public readonly record struct Turn(Vector3 X, Vector3 Y, Vector3 Z)
{
    /// <summary>Into the outer frame.</summary>
    public Vector3 Apply(Vector3 v) => (X * v.X) + (Y * v.Y) + (Z * v.Z);

    /// <summary>Back into the inner frame.</summary>
    public Vector3 Undo(Vector3 v) => new(v.Dot(X), v.Dot(Y), v.Dot(Z));

    /// <summary>About z by <paramref name="zDeg"/>, after about x by <paramref name="xDeg"/>, after about y by <paramref name="yDeg"/>.</summary>
    public static Turn ZXY(double zDeg, double xDeg, double yDeg)
    {
        (double sz, double cz) = Math.SinCos(double.DegreesToRadians(zDeg));
        (double sx, double cx) = Math.SinCos(double.DegreesToRadians(xDeg));
        (double sy, double cy) = Math.SinCos(double.DegreesToRadians(yDeg));
        Vector3 Of(Vector3 v)
        {
            var a = new Vector3((v.X * cy) + (v.Z * sy), v.Y, (v.Z * cy) - (v.X * sy));
            var b = new Vector3(a.X, (a.Y * cx) - (a.Z * sx), (a.Y * sx) + (a.Z * cx));
            return new((b.X * cz) - (b.Y * sz), (b.X * sz) + (b.Y * cz), b.Z);
        }

        return new(Of(new(1, 0, 0)), Of(new(0, 1, 0)), Of(new(0, 0, 1)));
    }
}
