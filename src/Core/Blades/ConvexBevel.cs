using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>A bevel that curves from shoulder to apex, seen in section as a circular arc.</summary>
/// <param name="Shoulder">Angle to the mid-plane where it leaves the flank.</param>
/// <param name="Apex">Angle to the mid-plane at the apex, above that of the shoulder.</param>
/// <param name="Width">Straight-line width from shoulder to apex.</param>
public sealed record ConvexBevel(Angle Shoulder, Angle Apex, Length Width)
{
    /// <summary>Radius of the arc, R = w/(2 sin((θa − θs)/2)): the chord of an arc that turns by θa − θs. Source: [sagitta] (chord of an arc).</summary>
    /// <exception cref="InvalidOperationException">The apex is not steeper than the shoulder, or there is no width.</exception>
    public Length Radius
    {
        get
        {
            if (!(Apex > Shoulder) || Width.Millimetres <= 0)
                throw new InvalidOperationException("A convex bevel is steeper at the apex than at the shoulder, and has a width above zero.");
            return Length.FromMillimetres(Width.Millimetres / (2 * Math.Sin((Apex - Shoulder).Radians / 2)));
        }
    }

    /// <summary>How far the bevel stands out over its chord, R(1 − cos((θa − θs)/2)). Source: [sagitta].</summary>
    public Length Bulge => Length.FromMillimetres(Radius.Millimetres * (1 - Math.Cos((Apex - Shoulder).Radians / 2)));

    /// <summary>Angle of the chord from shoulder to apex: half-way, exactly, for an arc.</summary>
    public Angle Chord => (Shoulder + Apex) / 2;
}
