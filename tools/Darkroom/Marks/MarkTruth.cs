using System.Text.Json.Nodes;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Cameras;

namespace Whetwright.Darkroom.Marks;

/// <summary>Writes down what is true of a set of photographs.</summary>
internal sealed class MarkTruth(MarkPhotographs photographs)
{
    private readonly MarkScene _scene = photographs.Scene;
    private readonly SceneLight _light = photographs.Light;

    public JsonObject Write()
    {
        JsonObject truth = OneMount();
        truth["turned"] = new MarkTruth(photographs.Turned).OneMount();
        return truth;
    }

    private JsonObject OneMount()
    {
        MarkVisibility lit = new(photographs, MarkExposure.Of(_light, PhotoKind.Lit));
        MarkVisibility dark = new(photographs, MarkExposure.Of(_light, PhotoKind.Dark));
        MountPose pose = _scene.Pose;
        Point2 zero = _scene.Target.ZeroMm;
        return new()
        {
            ["seed"] = _scene.Seed,
            ["difficulty"] = _scene.Difficulty.ToString().ToLowerInvariant(),
            ["renderer"] = "darkroom 1",
            ["report"] = Report(lit, dark),
            ["sides"] = new JsonObject { ["R"] = SideOf(_scene.Right), ["L"] = SideOf(_scene.Left) },
            ["geometry"] = new JsonObject
            {
                ["roll_deg"] = pose.RollDeg,
                ["pitch_deg"] = pose.PitchDeg,
                ["twist_deg"] = pose.TwistDeg,
                ["lateral_offset_mm"] = pose.OffsetMm,
                ["apex_radius_um"] = pose.ApexRadiusUm,
                ["land_um"] = pose.LandUm,
                ["blade_height_mm"] = pose.BladeHeightMm,
                ["spine_half_mm"] = _light.Section.SpineHalfMm,
                ["L_nominal_mm"] = pose.NominalMm,
                ["L_true_mm"] = pose.TrueMm,
                ["card_yaw_deg"] = pose.SheetYawDeg,
                ["card_pitch_deg"] = pose.SheetPitchDeg,
                ["card_rot_deg"] = pose.SheetRotDeg,
                ["zero_offset_mm"] = Pair(pose.ZeroOffsetMm.X, pose.ZeroOffsetMm.Y),
            },
            ["beam"] = Beam(),
            ["apex_radius_um"] = pose.ApexRadiusUm,
            ["L_true_mm"] = pose.TrueMm,
            ["L_nominal_mm"] = pose.NominalMm,
            ["L_gauged_mm"] = _scene.GaugedMm,
            ["zero"] = new JsonObject
            {
                ["card_zero_mm"] = Pair(zero.X, zero.Y),
                ["beam_axis_meets_card_mm"] = Pair(zero.X + pose.ZeroOffsetMm.X, zero.Y + pose.ZeroOffsetMm.Y),
                ["bare_beam_fraction"] = _light.BareFraction,
            },
            ["spots"] = new JsonArray([.. lit.Spots(), BareSpot()]),
            ["nicks"] = new JsonArray([.. _scene.Nicks.Select(n => new JsonObject { ["z_mm"] = n.AtMm, ["half_width_mm"] = n.HalfWidthMm, ["depth_mm"] = n.DepthMm })]),
            ["distractors"] = new JsonArray([.. _scene.Distractors.Select(Describe)]),
            ["occluder"] = _scene.Blade is SeenBlade blade
                ? new JsonObject { ["z_mm"] = Pair(blade.FromMm, blade.ToMm), ["thick_mm"] = 2 * _light.Section.SpineHalfMm, ["height_mm"] = pose.BladeHeightMm, ["albedo"] = blade.Albedo }
                : null,
            ["camera"] = CameraOf(lit),
        };
    }

    private JsonObject Report(MarkVisibility lit, MarkVisibility dark)
    {
        EdgeSide r = _scene.Right;
        EdgeSide l = _scene.Left;
        double roll = _scene.Pose.RollDeg;
        bool[] no = [lit.Right.StartsWith("no", StringComparison.Ordinal), lit.Left.StartsWith("no", StringComparison.Ordinal)];
        bool[] noDark = [dark.Right.StartsWith("no", StringComparison.Ordinal), dark.Left.StartsWith("no", StringComparison.Ordinal)];
        return new()
        {
            ["edge_bevel_deg"] = Both(r.BevelDeg, l.BevelDeg),
            ["edge_bevel_as_read_deg"] = Both(r.BevelDeg + roll, l.BevelDeg - roll),
            ["edge_bevel_range_deg"] = new JsonObject { ["R"] = Pair(r.ShoulderDeg, r.ApexDeg), ["L"] = Pair(l.ShoulderDeg, l.ApexDeg) },
            ["micro_bevel_deg"] = new JsonObject { ["R"] = r.MicroDeg, ["L"] = l.MicroDeg },
            ["primary_deg"] = Both(r.PrimaryDeg, l.PrimaryDeg),
            ["primary_as_read_deg"] = Both(r.PrimaryDeg + roll, l.PrimaryDeg - roll),
            ["included_deg"] = r.BevelDeg + l.BevelDeg,
            ["half_included_deg"] = (r.BevelDeg + l.BevelDeg) / 2,
            ["included_micro_deg"] = r.MicroDeg + l.MicroDeg,
            ["primary_included_deg"] = r.PrimaryDeg + l.PrimaryDeg,
            ["roll_deg"] = roll,
            ["pitch_deg"] = _scene.Pose.PitchDeg,
            ["visibility"] = new JsonObject { ["R"] = lit.Right, ["L"] = lit.Left },
            ["readable"] = new JsonObject { ["R"] = !no[0], ["L"] = !no[1] },
            ["may_refuse_included"] = lit.Right != "clear" || lit.Left != "clear",
            ["should_refuse_included"] = no[0] || no[1],
            ["refuse_reasons"] = lit.Reasons(),
            ["dark"] = new JsonObject
            {
                ["visibility"] = new JsonObject { ["R"] = dark.Right, ["L"] = dark.Left },
                ["readable"] = new JsonObject { ["R"] = !noDark[0], ["L"] = !noDark[1] },
                ["may_refuse_included"] = dark.Right != "clear" || dark.Left != "clear",
                ["should_refuse_included"] = noDark[0] || noDark[1],
                ["refuse_reasons"] = dark.Reasons(),
            },
        };
    }

    private static JsonObject SideOf(EdgeSide side) => new()
    {
        ["primary_deg"] = side.PrimaryDeg,
        ["bevel_deg"] = side.BevelDeg,
        ["convexity_deg"] = side.CurvatureDeg,
        ["bevel_shoulder_deg"] = side.ShoulderDeg,
        ["bevel_apex_deg"] = side.ApexDeg,
        ["bevel_width_mm"] = side.BevelWidthMm,
        ["micro_deg"] = side.MicroDeg,
        ["micro_width_mm"] = side.MicroWidthMm,
        ["slope_cross_rms"] = side.SlopeAcross,
        ["slope_along_rms"] = side.SlopeAlong,
        ["scratch_skew_deg"] = side.SkewDeg,
        ["primary_slope_cross_rms"] = side.PrimarySlopeAcross,
        ["primary_slope_along_rms"] = side.PrimarySlopeAlong,
        ["reflect_bevel"] = side.ReflectBevel,
        ["reflect_primary"] = side.ReflectPrimary,
    };

    private JsonObject Beam()
    {
        LaserBeam beam = _scene.Beam;
        return new()
        {
            ["kind"] = beam.IsLine ? "line" : "dot",
            ["colour"] = beam.Colour,
            ["wavelength_nm"] = beam.WavelengthNm,
            ["power_mW"] = beam.PowerMw,
            ["diameter_mm"] = Math.Sqrt(beam.AcrossMm * beam.AlongMm),
            ["ellipticity"] = beam.AcrossMm / beam.AlongMm,
            ["profile"] = beam.FlatTopAcross || beam.FlatTopAlong ? "tophat" : "gauss",
            ["divergence_mrad_per_mm"] = beam.DivergenceMrad,
            ["line_along_edge"] = beam.IsLine ? beam.AlongEdge : null,
            ["line_length_mm"] = beam.IsLine ? Math.Max(beam.AlongMm, beam.AcrossMm) : null,
            ["line_thickness_mm"] = beam.IsLine ? Math.Min(beam.AlongMm, beam.AcrossMm) : null,
            ["fan_source_mm"] = beam.FanSourceMm,
        };
    }

    private JsonObject BareSpot()
    {
        (double left, double right) = _light.Tracer.ShadowMm(_light.Section);
        (_, _, Point2 centroid, _) = _light.Bare.Measure();
        JsonObject spot = new()
        {
            ["side"] = "0",
            ["facet"] = "bare",
            ["power_fraction"] = _light.BareFraction,
            ["shadow_mm"] = Pair(left, right),
        };
        if (_light.Bare.Power > 1e-6)
            spot["centroid_mm"] = Pair(centroid.X, centroid.Y);
        return spot;
    }

    private static JsonObject Describe(Distractor distractor) => distractor switch
    {
        Distractor.Ghost g => new() { ["kind"] = "ghost", ["shift_mm"] = Pair(g.ShiftMm.X, g.ShiftMm.Y), ["strength"] = g.Strength },
        Distractor.Glint g => new() { ["kind"] = "glint", ["at_mm"] = Pair(g.AtMm.X, g.AtMm.Y), ["length_mm"] = g.LengthMm, ["width_mm"] = g.WidthMm, ["peak_W_m2"] = g.WattPerM2 },
        Distractor.Pen p => new()
        {
            ["kind"] = "pen",
            ["points_mm"] = new JsonArray([.. p.PointsMm.Select(q => Pair(q.X, q.Y))]),
            ["width_mm"] = p.WidthMm,
            ["rgb"] = new JsonArray(p.Red, p.Green, p.Blue),
        },
        Distractor.Shadow s => new() { ["kind"] = "shadow", ["x_mm"] = s.AtMm, ["width_mm"] = s.WidthMm, ["slant"] = s.Slant, ["depth"] = s.Depth, ["soft_mm"] = s.SoftMm },
        _ => throw new InvalidOperationException("A distractor of no known kind."),
    };

    private JsonObject CameraOf(MarkVisibility lit)
    {
        LensCamera camera = photographs.Camera;
        Shot shot = _scene.Shot;
        return new()
        {
            ["width"] = camera.WidthPx,
            ["height"] = camera.HeightPx,
            ["exif_orientation"] = shot.ExifOrientation,
            ["exif_written"] = shot.ExifWritten,
            ["upside_tilt_deg"] = shot.TiltXDeg,
            ["lateral_tilt_deg"] = shot.TiltYDeg,
            ["camera_roll_deg"] = shot.RollDeg,
            ["f35_mm"] = shot.F35Mm,
            ["k1"] = camera.K1,
            ["k2"] = camera.K2,
            ["ambient_lux"] = shot.AmbientLux,
            ["ev"] = shot.Ev,
            ["laser_rgb"] = new JsonArray(shot.LaserRgb.X, shot.LaserRgb.Y, shot.LaserRgb.Z),
            ["defocus_px12"] = shot.DefocusPx12,
            ["motion_px12"] = shot.MotionPx12,
            ["motion_dir_deg"] = shot.MotionDeg,
            ["bloom"] = Pair(shot.Bloom.X, shot.Bloom.Y),
            ["bloom_px12"] = Pair(shot.BloomPx12.X, shot.BloomPx12.Y),
            ["jpeg_quality"] = shot.JpegQuality,
            ["focal_px"] = camera.FocalPx,
            ["centre_mm"] = new JsonArray(camera.CentreMm.X, camera.CentreMm.Y, camera.CentreMm.Z),
            ["R"] = new JsonArray(Row(camera.Right), Row(camera.Down), Row(camera.Forward)),
            ["gain"] = lit.Exposure.Gain,
            ["laser_wm2_for_saturation"] = lit.Exposure.SaturatingWatt,
        };
    }

    private static JsonArray Row(Vector3 v) => new(v.X, v.Y, v.Z);

    private static JsonArray Pair(double a, double b) => new(a, b);

    private static JsonObject Both(double right, double left) => new() { ["R"] = right, ["L"] = left };
}
