using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;

namespace Whetwright.Sight.Reading;

/// <summary>Turns one mark of a placing into a bevel as read, with what its uncertainty is made of.</summary>
internal sealed class MarkReader
{
    /// <summary>Name of a mark's own part of its doubt in budgets.</summary>
    public const string MarkSource = "mark";

    /// <summary>Spread across, in degrees of bevel, at which clarity is one half. Chosen.</summary>
    private const double CrispDeg = 0.7;

    /// <summary>Half widths below this, beyond the photo's own blur, are no range. Chosen.</summary>
    private const double LeastRangeDeg = 0.35;

    /// <summary>
    /// A line's mark leans by the fan of the beam, the turn of the sheet and skewed scratches together, and its middle need not lie on the row:
    /// what remains after the fit, per side. From trials on rendered photographs, not derived.
    /// </summary>
    private const double LineRowDeg = 0.15;

    /// <summary>A mark with more of its surroundings shaded than this is taken as partly hidden. Chosen.</summary>
    private const double MostShaded = 0.25;

    private readonly int _mount;
    private readonly TipDirection _tip;
    private readonly PhotoReadRequest _request;
    private readonly PhotoFrame _frame;
    private readonly FoundSheet _sheet;
    private readonly LaserLight _light;
    private readonly MarkHypothesis _best;
    private readonly bool _line;
    private readonly double _beamSdMm;
    private readonly double _narrowestMm;
    private readonly InversionPoint _at;

    public MarkReader(int mount, TipDirection tip, PhotoReadRequest request, PhotoFrame frame, FoundSheet sheet, LaserLight light, MarkHypothesis best, IReadOnlyList<MarkShape> shapes)
    {
        (_mount, _tip, _request, _frame, _sheet, _light, _best) = (mount, tip, request, frame, sheet, light, best);
        var inner = shapes.Where(s => s.RoughDeg < 5.5 && Math.Abs(s.CentreYMm - request.Target.ZeroMm.Y) < 8 && s.SignalToNoise > 30).ToList();
        double height = inner.Count == 0 ? best.OnRow.Min(s => s.AlongSdMm) : inner.Min(s => s.AlongSdMm);
        _line = request.Beam == BeamKind.Line || (request.Beam == BeamKind.Unknown && height > 5 && best.OnRow.All(s => s.AlongSdMm > 4));
        _beamSdMm = _line ? Math.Max(height, 4) : Math.Clamp(height, 0.5, 2.2);
        _narrowestMm = shapes.Where(s => s.SignalToNoise > 30).Select(s => s.AcrossSdMm).DefaultIfEmpty(0).Min();
        _at = frame.At;
    }

    public (SeenMark Mark, ReadingObservation? Observation, Reason? Reason) Read(Side side, MarkShape shape, SeenRole role)
    {
        Point2 zero = _request.Target.ZeroMm;
        double sign = side == Side.Right ? 1 : -1;
        double nearX = shape.CentreXMm - zero.X;
        double row = _best.Row.YMm(nearX, _frame.DistanceMm);
        double spread = Math.Max(0.15, 0.15 * shape.AcrossSdMm);
        var ridge = shape.Ridge.Select(p => (sign * (p.XMm - zero.X), p.YMm - zero.Y, spread / Math.Sqrt(Math.Max(p.Light, 0.2)))).ToList();
        double along = Math.Max(shape.AlongSdMm, 0.5);
        double squared = Math.Clamp(1 - Math.Pow(_beamSdMm / along, 2), 0, 1);
        (double, double) follow = _line ? (Math.Min(squared, 0.3), 0.15) : (Math.Clamp(squared, 0.4, 0.95), 0.25);
        RidgeFit? fit = RidgeFit.Fit(ridge, _frame.DistanceMm, row, follow);
        if (fit is null)
        {
            Point2 middle = new(shape.CentreXMm, shape.CentreYMm);
            return (new(_mount, side, role, middle, _sheet.Map.ToPhoto(middle), null) { Shape = shape }, null, null);
        }

        double asRead = _at.AsReadRad(side, fit, nearX);
        Point2 place = _at.Place(side, fit, nearX);
        Point2 onSheet = new(place.X + zero.X, place.Y + zero.Y);
        double degPerMm = double.RadiansToDegrees(Math.Pow(Math.Cos(2 * asRead), 2) / (2 * _frame.DistanceMm));
        double uFit = Math.Sqrt((fit.UMm * fit.UMm) + Math.Pow(0.06 * shape.AcrossSdMm * (1 + shape.Clipped), 2) + 0.0025);
        if (role == SeenRole.Primary)
            uFit = Math.Max(uFit, 0.5 * shape.AcrossSdMm);
        var noise = new List<NoisePart>
        {
            new(MarkSource, uFit * degPerMm),
            new("sheet map", _sheet.MapUMm * degPerMm),
        };
        if (_line)
            noise.Add(new("line beam on the row", LineRowDeg));
        IReadOnlyList<CommonPart> common = _frame.Common(_mount, at => at.AsReadRad(side, fit, nearX));
        double u = Math.Sqrt(noise.Sum(n => n.UncertaintyDeg * n.UncertaintyDeg) + common.Sum(n => n.DegPerU * n.DegPerU));
        var angle = MeasuredAngle.FromDegrees(double.RadiansToDegrees(asRead), u);
        double halfWidthDeg = Math.Sqrt(Math.Max(0, Math.Pow(1.2 * shape.AcrossSdMm, 2) - Math.Pow(1.2 * _narrowestMm, 2))) * degPerMm;
        var mark = new SeenMark(_mount, side, role, onSheet, _sheet.Map.ToPhoto(onSheet), angle)
        {
            Shape = shape,
            Clarity = 1 / (1 + Math.Pow(shape.AcrossSdMm * degPerMm / CrispDeg, 2)),
            Range = shape.Clipped < 0.05 && halfWidthDeg > LeastRangeDeg
                ? (angle.Value - Angle.FromDegrees(halfWidthDeg), angle.Value + Angle.FromDegrees(halfWidthDeg))
                : null,
        };
        MarkRole markRole = role switch { SeenRole.Edge => MarkRole.Edge, SeenRole.Micro => MarkRole.Micro, _ => MarkRole.Primary };
        var seen = new ReadingObservation(_mount, _tip, side, markRole, angle.Value, noise, common) { AtMm = place, PhotoPx = mark.PhotoPx };
        mark = mark with { Observation = seen };
        if (shape.AtRim && role == SeenRole.Edge)
        {
            return (mark, null, new($"clipped-{(side == Side.Left ? "left" : "right")}", $"The edge's mark on the {(side == Side.Left ? "left" : "right")} runs off the field or onto a fiducial. Move the target closer, or shift it, so that the mark falls on the plain field."));
        }

        if (role == SeenRole.Edge && ShadedPart(onSheet) > MostShaded)
        {
            return (mark, null, new($"hidden-{(side == Side.Left ? "left" : "right")}", $"The blade, or its holder, stands in front of the edge's mark on the {(side == Side.Left ? "left" : "right")}. Move the phone sideways until the mark is in the clear, and take the photo again."));
        }

        if (Math.Abs(angle.Value.Degrees) >= 44 || (role == SeenRole.Primary && !StandsAlone(shape, side == Side.Left ? _best.EdgeLeft : _best.EdgeRight)))
            return (mark, null, null);
        return (mark, seen, null);
    }

    /// <summary>Part of the cells about the reading point where far less room light comes back than from bare paper: something dark is in front.</summary>
    private double ShadedPart(Point2 onSheet)
    {
        SheetField field = _light.Field;
        int shaded = 0;
        int all = 0;
        for (double y = -3; y <= 3; y += 0.5)
        {
            for (double x = -2; x <= 2; x += 0.5)
            {
                int column = (int)Math.Round(field.Column(onSheet.X + x));
                int row = (int)Math.Round(field.Row(onSheet.Y + y));
                if (column < 0 || row < 0 || column >= field.Width || row >= field.Height)
                    continue;
                int i = (row * field.Width) + column;
                all++;
                shaded += _light.Room[i] < 0.5f * _light.Paper[i] ? 1 : 0;
            }
        }

        return all == 0 ? 0 : (double)shaded / all;
    }

    /// <summary>
    /// A primary's mark tells the roll only where it is parted from the bare beam and from the other side's, and carries the light of the wide
    /// grind that it is: a faint splinter of it would not.
    /// </summary>
    private static bool StandsAlone(MarkShape shape, MarkShape? edge) =>
        shape.Blob.Saddle < 0.5 * shape.Blob.Peak && shape.RoughDeg > 1.2 && shape.Flux > 0.5 * (edge?.Flux ?? 0);
}
