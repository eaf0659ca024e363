using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>Draws the parts of a scene from the ranges of its difficulty.</summary>
internal sealed class SceneDraw(Difficulty difficulty, int seed, TargetSheet target)
{
    private readonly MarkRanges _ranges = MarkRanges.Of(difficulty);
    private readonly Dice _dice = new(seed, $"marks-{difficulty}");

    public MarkScene Draw()
    {
        (EdgeSide right, EdgeSide left) = Sides();
        LaserBeam beam = Beam();
        MountPose pose = Pose(beam, Math.Max(right.MicroDeg ?? right.ApexDeg, left.MicroDeg ?? left.ApexDeg));
        MountPose turned = pose with
        {
            RollDeg = pose.RollDeg + (0.05 * _dice.Normal()),
            OffsetMm = pose.OffsetMm + (0.04 * _dice.Normal()),
        };
        Shot shot = new ShotDraw(difficulty, _dice, _ranges).Draw(beam.Colour);
        Shot turnedShot = shot with
        {
            TiltXDeg = shot.TiltXDeg + _dice.Between(-2, 2),
            TiltYDeg = shot.TiltYDeg + _dice.Between(-2, 2),
            RollDeg = shot.RollDeg + _dice.Between(-1.5, 1.5),
            AimMm = shot.AimMm + new Vector2(_dice.Between(-3, 3), _dice.Between(-3, 3)),
            MotionPx12 = _dice.In(_ranges.Motion),
            MotionDeg = _dice.Between(0, 180),
        };
        return new()
        {
            Difficulty = difficulty,
            Seed = seed,
            Target = target,
            Right = right,
            Left = left,
            Pose = pose,
            TurnedPose = turned,
            Beam = beam,
            Nicks = Nicks(beam),
            Distractors = Distractors(),
            Blade = Blade(),
            Shot = shot,
            TurnedShot = turnedShot,
            GaugedMm = Math.Round(pose.TrueMm * (1 + (0.002 * _dice.Normal())), 2),
        };
    }

    private (EdgeSide Right, EdgeSide Left) Sides()
    {
        double bevel = _dice.In(_ranges.BevelDeg);
        double half = _ranges.SideScatterDeg * _dice.Normal() / Math.Sqrt(2);
        double primary = Math.Min(_dice.In(_ranges.PrimaryDeg), bevel - 5);
        bool curved = _dice.Chance(_ranges.ConvexShare + _ranges.HollowShare);
        bool hollow = curved && _dice.Chance(_ranges.HollowShare / (_ranges.ConvexShare + _ranges.HollowShare));
        double curvature = curved ? _dice.In(_ranges.CurvatureDeg) * (hollow ? -1 : 1) : 0;
        double width = _dice.LogIn(_ranges.BevelWidthMm);
        double? microExtra = _dice.Chance(_ranges.MicroShare) ? _dice.In(_ranges.MicroExtraDeg) : null;
        double microShare = _dice.Between(0.1, 0.35);
        EdgeSide Side(int sign)
        {
            double own = Math.Max(5, bevel + (sign * half));
            double side = curvature * _dice.Between(0.8, 1.2);
            double? micro = microExtra is double extra ? own + (Math.Abs(side) / 2) + extra + _dice.Between(-0.4, 0.4) : null;
            double ownWidth = width * _dice.Between(0.85, 1.15);
            return new(
                Math.Max(0.3, primary + (0.35 * _dice.Normal())), own, side, ownWidth, micro, micro is null ? null : Math.Max(0.015, ownWidth * microShare),
                _dice.In(_ranges.SlopeAcross), _dice.LogIn(_ranges.SlopeAlong), _dice.Between(-_ranges.SkewMostDeg, _ranges.SkewMostDeg),
                _dice.In(_ranges.SlopeAcross), _dice.LogIn(_ranges.SlopeAlong) * 1.3, _dice.Between(-4, 4), _dice.Between(0.33, 0.62), _dice.Between(0.3, 0.62));
        }

        return (Side(1), Side(-1));
    }

    private LaserBeam Beam()
    {
        bool line = _dice.Chance(_ranges.LineShare);
        bool red = _dice.Chance(0.45);
        double diameter = _dice.Between(1.7, 5.2);
        double ellipticity = _dice.Between(0.72, 1.35);
        bool flat = _dice.Chance(0.5);
        bool along = !_dice.Chance(0.12);
        double thickness = _dice.Between(1.0, 2.6);
        double length = _dice.Between(9, 22);
        return new()
        {
            IsLine = line,
            AlongEdge = !line || along,
            Colour = red ? "red" : "green",
            WavelengthNm = red ? _dice.Between(635, 660) : _dice.Between(515, 532),
            PowerMw = _dice.Between(0.6, 3.2),
            AcrossMm = line ? (along ? thickness : length) : diameter * Math.Sqrt(ellipticity),
            AlongMm = line ? (along ? length : thickness) : diameter / Math.Sqrt(ellipticity),
            FlatTopAcross = line ? !along : flat,
            FlatTopAlong = line ? along : flat,
            DivergenceMrad = _dice.Between(-0.35, 0.2),
            FanSourceMm = line ? _dice.Between(120, 260) : null,
        };
    }

    private MountPose Pose(LaserBeam beam, double steepestDeg)
    {
        double offset = _ranges.OffsetSdShare * beam.AcrossMm * _dice.Normal();
        if (difficulty == Difficulty.Hard && _dice.Chance(0.05))
            offset = Math.Sign(offset) * _dice.Between(0.7, 1.1) * beam.AcrossMm;
        // Whoever sets up a target stands it where the marks land on it, mostly; at times it does not fit.
        double fits = 0.9 * Math.Min(target.ZeroMm.X, target.SizeMm.X - target.ZeroMm.X) / Math.Tan(double.DegreesToRadians(2 * Math.Min(steepestDeg, 40)));
        bool careless = difficulty == Difficulty.Hard && _dice.Chance(0.04);
        double nominal = _dice.Chance(0.4) ? target.DistanceMm : Math.Round(_dice.In(_ranges.DistanceMm));
        if (!careless)
            nominal = Math.Round(Math.Clamp(nominal, _ranges.DistanceMm.From, Math.Max(_ranges.DistanceMm.From, Math.Min(_ranges.DistanceMm.To, fits))));
        double landUm = _dice.Chance(_ranges.LandShare) ? _dice.Between(3, 40) : 0;
        return new(
            _ranges.RollSdDeg * _dice.Normal(3), _dice.Between(-1, 1) * _ranges.PitchMostDeg, _dice.Between(-1, 1) * _ranges.TwistMostDeg, offset,
            _dice.LogIn(_ranges.ApexRadiusUm), landUm, _dice.Between(15, 45), nominal, nominal * (1 + (_ranges.DistanceSd * _dice.Normal(2))),
            Turned(), Turned(), Turned() * 0.8, new(_dice.Between(-1, 1) * _ranges.ZeroMostMm, _dice.Between(-1, 1) * _ranges.ZeroMostMm));
    }

    private double Turned() => _ranges.SheetTurnMostDeg * _dice.Normal(2) / 2;

    private List<Nick> Nicks(LaserBeam beam)
    {
        List<Nick> nicks = [];
        while (nicks.Count < 3 && _dice.Chance(_ranges.NickShare))
            nicks.Add(new(_dice.Between(-0.5, 0.5) * beam.AlongMm, _dice.Between(0.05, 0.2), _dice.Between(0.05, 0.35)));
        return nicks;
    }

    private SeenBlade? Blade()
    {
        if (!_dice.Chance(_ranges.BladeSeenShare))
            return null;
        double up = _dice.Chance(0.15) ? _dice.Between(6, 15) : _dice.Between(30, 170);
        double down = _dice.Chance(0.15) ? _dice.Between(6, 15) : _dice.Between(30, 170);
        return new(-up, down, _dice.Between(0.05, 0.25), _dice.LogIn(new(0.01, 0.08)));
    }

    private List<Distractor> Distractors()
    {
        List<Distractor> found = [];
        SheetRectangle field = target.SpotFieldMm;
        Point2 Somewhere() => new(_dice.Between(field.LeftMm, field.RightMm), _dice.Between(field.TopMm, field.BottomMm));
        while (found.Count < 3 && _dice.Chance(_ranges.DistractorShare))
        {
            switch ((int)(_dice.Unit() * 4))
            {
                case 0:
                    found.Add(new Distractor.Ghost(new(_dice.Between(-9, 9), _dice.Between(-9, 9)), _dice.LogIn(new(0.005, 0.08))));
                    break;
                case 1:
                    found.Add(new Distractor.Glint(Somewhere(), _dice.Between(1, 8), _dice.Between(0.5, 1.5), _dice.Between(0, Math.PI), _dice.LogIn(new(0.02, 1.5))));
                    break;
                case 2:
                    Point2 at = Somewhere();
                    int points = 2 + (int)(_dice.Unit() * 3);
                    (double r, double g, double b) = _dice.Pick<(double, double, double)>([(0.1, 0.1, 0.12), (0.12, 0.15, 0.5), (0.75, 0.1, 0.12), (0.1, 0.5, 0.2)]);
                    found.Add(new Distractor.Pen([.. Enumerable.Range(0, points).Select(_ => new Point2(at.X + _dice.Between(-9, 9), at.Y + _dice.Between(-9, 9)))], _dice.Between(0.35, 0.9), r, g, b));
                    break;
                default:
                    found.Add(new Distractor.Shadow(_dice.Between(20, target.SizeMm.X - 20), _dice.Between(8, 40), _dice.Between(-0.2, 0.2), _dice.Between(0.1, 0.4), _dice.Between(3, 12)));
                    break;
            }
        }

        return found;
    }
}
