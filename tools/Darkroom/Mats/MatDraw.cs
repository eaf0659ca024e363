using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Chance;
using Whetwright.Darkroom.Marks;

namespace Whetwright.Darkroom.Mats;

/// <summary>Draws the parts of a mat scene; ranges are printed in the README and are chosen, not derived.</summary>
internal sealed class MatDraw(Difficulty difficulty, int seed, MatSheet mat, int place = 0)
{
    private readonly Dice _dice = new(seed, place == 0 ? $"mats-{difficulty}" : $"mats-{difficulty}-place-{place}");
    private readonly double _hard = difficulty switch { Difficulty.Easy => 0, Difficulty.Normal => 0.5, _ => 1 };

    public MatScene Draw()
    {
        double marginX = mat.Fiducials.Min(f => f.RightMm) + 6;
        double marginY = mat.Fiducials.Min(f => f.BottomMm) + 6;
        double fieldX = mat.SizeMm.X - (2 * marginX);
        double fieldY = mat.SizeMm.Y - (2 * marginY);
        BladeFamily family = _dice.Pick(Enum.GetValues<BladeFamily>());
        int chips = difficulty == Difficulty.Easy || _dice.Chance(0.35) ? 0 : 1 + (int)(_dice.Unit() * 3);
        BladeShape shape = BladeShape.Draw(family, chips, 0.5, 3, fieldX - 4, _dice);
        double spine = _dice.Between(1.2, 3.2);
        Handle? handle = _dice.Chance(difficulty == Difficulty.Easy ? 0.25 : 0.5) ? DrawHandle(shape) : null;
        double lift = spine / 2;
        double liftTip = (spine / 2 * _dice.Between(0.45, 1)) + 0.02;
        if (handle is not null)
            lift = Math.Max(lift, liftTip + ((handle.HalfThickMm - liftTip) * shape.LengthMm / (shape.LengthMm + handle.StartMm + (handle.LengthMm / 2))));
        LyingBlade blade = Place(shape, spine, lift, liftTip, fieldX, fieldY, marginX, marginY);
        string defect = difficulty == Difficulty.Hard && _dice.Chance(0.12) ? _dice.Pick<string>(["oblique", "blurred", "tip-covered", "heel-covered"]) : "none";
        MatShot shot = Shot(defect);
        return new()
        {
            Difficulty = difficulty,
            Seed = seed,
            Mat = mat,
            Grid = _dice.Chance(0.5),
            Shape = shape,
            Blade = blade,
            Handle = handle,
            Lamps = Lamps(),
            RoomRgb = new(1 + _dice.Between(-0.1, 0.2), 1, 1 - _dice.Between(-0.05, 0.25)),
            About = About(shape, blade, defect),
            Defect = defect,
            Shot = shot,
            SecondShot = Second(shot),
        };
    }

    /// <summary>The same piece laid down again somewhere else, seen by another hand: place and turn on the mat, both shots; blade, lamps and faults stay.</summary>
    public MatScene Move(MatScene scene)
    {
        double marginX = mat.Fiducials.Min(f => f.RightMm) + 6;
        double marginY = mat.Fiducials.Min(f => f.BottomMm) + 6;
        LyingBlade b = scene.Blade;
        LyingBlade placed = Place(scene.Shape, b.SpineMm, b.LiftAtHeelMm, b.LiftAtTipMm, mat.SizeMm.X - (2 * marginX), mat.SizeMm.Y - (2 * marginY), marginX, marginY, b.Mirrored);
        LyingBlade blade = b with { TurnRad = placed.TurnRad, HeelMm = placed.HeelMm };
        MatShot shot = Shot(scene.Defect);
        return scene with { Blade = blade, About = About(scene.Shape, blade, scene.Defect), Shot = shot, SecondShot = Second(shot) };
    }

    private Handle DrawHandle(BladeShape shape)
    {
        (double albedo, string kind) = _dice.Pick<(double, string)>([(0.04, "dark"), (0.3, "wood"), (0.45, "steel")]);
        double half = Math.Min(_dice.Between(2.2, 7.5), 2 + (4 * _dice.Unit()) + (_hard * 2));
        return new(_dice.Between(0, 6), _dice.Between(85, 125), Math.Min(shape.HeightMm * 0.85, _dice.Between(14, 26)), half, albedo, kind);
    }

    private LyingBlade Place(BladeShape shape, double spine, double lift, double liftTip, double fieldX, double fieldY, double marginX, double marginY, bool? sameSideUp = null)
    {
        double most = difficulty == Difficulty.Easy ? 4 : 16;
        bool mirrored = _dice.Chance(0.5);
        mirrored = sameSideUp ?? mirrored;
        bool turned = _dice.Chance(0.5);
        for (int attempt = 0; ; attempt++)
        {
            double turn = double.DegreesToRadians((_dice.Between(-most, most) * Math.Max(0, 1 - (attempt / 100.0))) + (turned ? 180 : 0));
            (double s, double c) = Math.SinCos(turn);
            double sign = mirrored ? 1 : -1;
            List<Point2> placed = [.. shape.Outline.Select(p => new Point2((p.X * c) - (sign * p.Y * s), (p.X * s) + (sign * p.Y * c)))];
            double left = placed.Min(p => p.X);
            double right = placed.Max(p => p.X);
            double top = placed.Min(p => p.Y);
            double bottom = placed.Max(p => p.Y);
            if (attempt < 120 && (right - left > fieldX || bottom - top > fieldY))
                continue;
            double x = marginX - left + (Math.Max(0, fieldX - (right - left)) * _dice.Unit());
            double y = marginY - top + (Math.Max(0, fieldY - (bottom - top)) * _dice.Unit());
            Finish finish = _dice.Pick(Enum.GetValues<Finish>());
            double roughness = finish switch { Finish.Polished => _dice.Between(0.008, 0.04), Finish.Brushed => _dice.Between(0.06, 0.2), _ => _dice.Between(0.1, 0.3) };
            return new(spine, _dice.Between(0.2, 0.65), _dice.Between(12, 22), finish, roughness, turn, mirrored, new(x, y), lift, liftTip, _dice.Chance(0.4 * _hard));
        }
    }

    private List<Lamp> Lamps()
    {
        List<Lamp> lamps = [];
        int count = 1 + (int)(_dice.Unit() * (difficulty == Difficulty.Easy ? 2 : 2.5));
        double cx = mat.SizeMm.X / 2;
        double cy = mat.SizeMm.Y / 2;
        for (int i = 0; i < count; i++)
        {
            double share = _dice.Between(0.4, 1.2 + _hard);
            lamps.Add((int)(_dice.Unit() * (3 + _hard)) switch
            {
                0 => new("ceiling", new(cx + _dice.Between(-800, 800), cy + _dice.Between(-800, 800), _dice.Between(1400, 2100)), new(_dice.Between(90, 250), _dice.Between(90, 250)), share),
                1 => new("tube", new(cx + _dice.Between(-700, 700), cy + _dice.Between(-700, 700), _dice.Between(1500, 2100)), new(_dice.Between(400, 650), _dice.Between(30, 90)), share),
                2 => new("desk-soft", new(cx + _dice.Between(-450, 450), cy + _dice.Between(-500, 500), _dice.Between(450, 800)), new(_dice.Between(60, 130), _dice.Between(60, 130)), share),
                _ => new("glare", new(cx + _dice.Between(-500, 500), cy + _dice.Between(-500, 500), _dice.Between(700, 1300)), new(_dice.Between(25, 60), _dice.Between(25, 60)), share * 0.8),
            });
        }

        return lamps;
    }

    private List<Lying> About(BladeShape shape, LyingBlade blade, string defect)
    {
        List<Lying> about = [];
        MatFrame frame = new(blade);
        if (defect is "tip-covered" or "heel-covered")
        {
            Point2 end = frame.ToMat(defect == "tip-covered" ? shape.NominalEdge[^1] : shape.NominalEdge[0]);
            about.Add(new("cloth", new(end.X + _dice.Between(-4, 4), end.Y + _dice.Between(-4, 4)), _dice.Between(16, 30), 12, _dice.Between(0.1, 0.5)));
        }

        while (about.Count < 3 && _dice.Chance(0.5 * _hard))
        {
            Point2 at = new(_dice.Between(40, mat.SizeMm.X - 40), _dice.Between(40, mat.SizeMm.Y - 40));
            double radius = _dice.Between(8, 13);
            bool clear = Away(shape.Outline, frame.ToBlade(at)) > radius + 8 && !Inside(shape.Outline, frame.ToBlade(at));
            if (clear)
                about.Add(_dice.Chance(0.6) ? new("coin", at, radius, 1.6, _dice.Between(0.25, 0.6)) : new("pen", at, radius, 0, 0.1));
        }

        return about;
    }

    // From the outline's sides, not its corners: a straight back or heel has none for many millimetres.
    private static double Away(IReadOnlyList<Point2> outline, Point2 at)
    {
        double least = double.PositiveInfinity;
        for (int i = 0, j = outline.Count - 1; i < outline.Count; j = i++)
        {
            Vector2 side = outline[i] - outline[j];
            double share = Math.Clamp((at - outline[j]).Dot(side) / Math.Max(1e-12, side.Dot(side)), 0, 1);
            least = Math.Min(least, at.DistanceTo(outline[j] + (side * share)));
        }

        return least;
    }

    private static bool Inside(IReadOnlyList<Point2> outline, Point2 at)
    {
        bool inside = false;
        for (int i = 0, j = outline.Count - 1; i < outline.Count; j = i++)
        {
            if ((outline[i].Y > at.Y) != (outline[j].Y > at.Y) && at.X < ((outline[j].X - outline[i].X) * (at.Y - outline[i].Y) / (outline[j].Y - outline[i].Y)) + outline[i].X)
                inside = !inside;
        }

        return inside;
    }

    private MatShot Shot(string defect)
    {
        double tilt = defect == "oblique" ? _dice.Between(46, 56) : _dice.Between(0, 6 + (20 * _hard));
        double way = _dice.Between(0, 2 * Math.PI);
        bool upside = _dice.Chance(0.4);
        double long35 = difficulty == Difficulty.Easy ? 32 : 70;
        return new(
            _dice.Between(24, _dice.Chance(0.5) ? 32 : long35), _dice.Between(-0.02, 0.02) * (0.4 + _hard), _dice.Between(-0.006, 0.006), tilt * Math.Cos(way), tilt * Math.Sin(way),
            _dice.Between(-6, 6) + (upside ? 180 : 0), new(_dice.Between(-12, 12), _dice.Between(-12, 12)), _dice.Between(0.62, 0.96), _dice.Between(0.4, 1 + (1.6 * _hard)),
            defect == "blurred" ? _dice.Between(50, 80) : _dice.Between(0, 4 * _hard), _dice.Between(0, 180), _dice.Between(1, 2 + (8 * _hard)), _dice.Between(0.25, 0.9),
            _dice.Between(0, 0.6), _dice.Between(0, 0.25), _dice.Between(0.45, 0.72), (int)_dice.Between(80, 96), _dice.Between(0.1, 0.5));
    }

    private MatShot Second(MatShot first)
    {
        double tilt = _dice.Between(12, 24);
        double away = Math.Atan2(-first.TiltYDeg, -first.TiltXDeg) + _dice.Between(-0.7, 0.7);
        return first with
        {
            TiltXDeg = tilt * Math.Cos(away),
            TiltYDeg = tilt * Math.Sin(away),
            RollDeg = first.RollDeg + _dice.Between(-8, 8),
            AimMm = new(_dice.Between(-10, 10), _dice.Between(-10, 10)),
            MotionPx12 = _dice.Between(0, 4 * _hard),
        };
    }
}
