using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;
using static Whetwright.Sight.Tests.Outlines.DrawnOutline;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Where the edge's line ends: on the heel's face, and between the sides at a sharp tip.</summary>
public sealed class Where_the_edge_ends
{
    [Fact]
    public void A_shadow_beside_the_heels_face_does_not_move_the_heel()
    {
        // The edge along y = 0 to the heel at the origin; beside the face, 1.4 mm off, the rim of its shadow, from 1.2 mm above the corner on.
        Point2[] stations = [.. Enumerable.Range(0, 600).Select(i => new Point2(i * 0.1, 0))];
        List<Point2> line = [];
        Draw(line, new(-1.4, 20), new(-1.4, 1.2));
        Draw(line, new(-1.4, 1.2), new(0, 1.2));
        Draw(line, new(0, 1.2), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));
        var face = new HeelFace(new(new(-1.4, 2), new(0, 1)), 0.03, [], new(1, 0), 0);

        Point2[] ended = EdgeEnds.AtHeel(stations, face, [.. line], heelAt);

        Assert.Equal(0, ended[0].X, 0.15);
        Assert.Equal(0, ended[0].Y, 0.1);
    }

    [Theory]
    [InlineData(4.5, 2.2)] // what lies within a millimetre of its top may be the handle's corner
    [InlineData(12, 9.7)]
    public void The_heels_face_ends_where_the_outline_turns_along_the_handle(double faceMm, double atLeastMm)
    {
        // Up the face, which leans by a twentieth, then along the handle's side, which leaves the edge by a tenth.
        List<Point2> line = [];
        double top = faceMm / 20;
        Draw(line, new(-40, faceMm + 4), new(top, faceMm));
        Draw(line, new(top, faceMm), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));

        List<Point2> face = BareSteel.Up([.. line], heelAt, new(0, 0), new(1, 0), new(0, 1));

        Assert.True(face[0].DistanceTo(face[^1]) > atLeastMm - 0.5, $"Only {face[0].DistanceTo(face[^1]):0.0} mm of it.");
        Assert.All(face, p => Assert.Equal(p.Y / 20, p.X, 0.1));
    }

    [Fact]
    public void A_torn_outline_that_winds_on_the_face_has_not_left_it()
    {
        // Six times to and fro across the face within half a millimetre of it: eight millimetres of way, no further up.
        List<Point2> line = [];
        Draw(line, new(0, 14), new(0, 5));
        for (int i = 0; i < 6; i++)
            Draw(line, new(i % 2 == 0 ? 0 : 1.3, 5 - (0.1 * i)), new(i % 2 == 0 ? 1.3 : 0, 4.9 - (0.1 * i)));
        Draw(line, new(0, 4.4), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));

        List<Point2> face = BareSteel.Up([.. line], heelAt, new(0, 0), new(1, 0), new(0, 1));

        Assert.True(face[^1].Y > 12, $"It ends {face[^1].Y:0.0} mm up.");
    }

    [Fact]
    public void A_band_that_was_no_shadow_gives_the_face_back_to_the_outline()
    {
        // The outline of the face along x = 0; 3.2 mm were taken off for a shadow, bright patina in truth.
        var face = new HeelFace(new(new(3.2, 2), new(0, 1)), 0.03, [.. Enumerable.Range(2, 20).Select(i => new Point2(0, i * 0.5))], new(1, 0), 3.2);

        HeelFace own = face.WithoutBand();

        Assert.Equal(0, own.Line.At.X, 0.01);
        Assert.Equal(1, Math.Abs(own.Line.Direction.Y), 0.001);
        Assert.Equal(0, own.BandMm);
    }

    [Fact]
    public void The_edge_ends_on_the_heels_face_where_the_outlines_corner_was_torn()
    {
        // Stations that run 2 mm past the face and dip, as a torn corner leaves them.
        Point2[] stations = [.. Enumerable.Range(-20, 600).Select(i => new Point2(i * 0.1, i < 0 ? -i * 0.04 : 0))];
        List<Point2> line = [];
        Draw(line, new(0, 20), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));

        Point2[] ended = EdgeEnds.AtHeel(stations, new HeelFace(new(new(0, 2), new(0, 1)), 0.02, [], new(1, 0), 0), [.. line], heelAt);

        Assert.Equal(0, ended[0].X, 0.1);
        Assert.Equal(0, ended[0].Y, 0.1);
    }

    [Theory]
    [InlineData(60.4, 60.2)] // both agree: midway
    [InlineData(61.5, 60)] // the meeting runs off: the outline's own end
    public void A_sharp_tip_lies_between_the_outlines_end_and_where_its_sides_meet_under_the_light(double meetsAt, double tip)
    {
        // A point of 45° whose outline ends at x = 60.
        Point2[] stations = [.. Enumerable.Range(0, 590).Select(i => new Point2(i * 0.1, 0))];
        List<Point2> line = [];
        Draw(line, new(0, 0), new(60, 0));
        int tipAt = line.Count - 1;
        Draw(line, new(60, 0), new(40, 20));
        var spine = new StraightLine(new(meetsAt - 3, 3), new Vector2(-1, 1).Normalized());

        Point2[] ended = TipLines.Of(stations, [.. line], tipAt, spine);

        Assert.Equal(tip, ended[^1].X, 0.12);
        Assert.Equal(0, ended[^1].Y, 0.05);
    }
}
