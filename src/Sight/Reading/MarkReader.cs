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
    /// A burnt-out mark's middle still lies between its flanks. It is lost where the mark is wider than any facet's, or so near zero, wide and white that the
    /// primary's light may be in it. From trials on rendered photographs, not derived.
    /// </summary>
    private const double BurntWideDeg = 1.4;

    private const double MostlyBurnt = 0.8;

    private const double BurntNearDeg = 7.2;

    private const double PartlyBurnt = 0.45;

    /// <summary>What a mark is wider than this adds to its doubt, by this part. Chosen.</summary>
    private const double WideDeg = 0.9;

    private const double WideShare = 0.2;

    /// <summary>A mark clipped over more of its brighter half than this looks wider than it is, and gives no range. Chosen.</summary>
    private const double MostClipped = 0.6;

    /// <summary>
    /// A line's mark leans by the fan of the beam, the turn of the sheet and skewed scratches together, and its middle need not lie on the row:
    /// what remains after the fit, per side. From trials on rendered photographs, not derived.
    /// </summary>
    private const double LineRowDeg = 0.08;

    /// <summary>
    /// The row is found better than the middles' stated spreads say, which are wide so that a wrong mark is not chosen for a small misfit. From the
    /// residuals on rendered photographs, hard and ordinary, not derived; the same holds for a mark's own part.
    /// </summary>
    internal const double RowShare = 0.6;

    /// <summary>A mark that stands on the flank of a brighter one is drawn toward it by this part of its spread per part of its height that is flank. Chosen.</summary>
    private const double MergedShare = 0.3;

    /// <summary>With one flank cut off, the top tells the middle to this part of the spread. Chosen.</summary>
    private const double CutShare = 0.4;

    /// <summary>Where a mark touches the rim, a reading point this far from what is left of its middle is not trusted. Chosen.</summary>
    private const double FarFromMiddleMm = 3;

    /// <summary>Rows of the ridge as near the reading point as this say whether it can be seen. Chosen.</summary>
    private const double NearMm = 1.6;

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
        double uFit = Math.Sqrt((fit.UMm * fit.UMm * RowShare * RowShare) + Math.Pow(((0.05 * (1 + shape.Clipped)) + (MergedShare * Math.Max(0, (shape.Blob.Saddle / shape.Blob.Peak) - 0.15))) * shape.AcrossSdMm, 2) + 0.0016);
        if (shape.Ridge.Any(p => p.Cut != RidgeCut.None && Math.Abs(p.YMm - onSheet.Y) <= NearMm))
            uFit = Math.Max(uFit, CutShare * shape.AcrossSdMm);
        uFit = Math.Sqrt((uFit * uFit) + Math.Pow(WideShare * Math.Max(0, shape.AcrossSdMm - (WideDeg / degPerMm)), 2));
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
            Range = shape.Clipped < MostClipped && halfWidthDeg > LeastRangeDeg
                ? (angle.Value - Angle.FromDegrees(halfWidthDeg), angle.Value + Angle.FromDegrees(halfWidthDeg))
                : null,
        };
        MarkRole markRole = role switch { SeenRole.Edge => MarkRole.Edge, SeenRole.Micro => MarkRole.Micro, _ => MarkRole.Primary };
        var seen = new ReadingObservation(_mount, _tip, side, markRole, angle.Value, noise, common) { AtMm = place, PhotoPx = mark.PhotoPx };
        mark = mark with { Observation = seen };
        if (role == SeenRole.Edge && (TopIsCut(shape, onSheet) ?? Smeared(shape)) is { } cause)
            return (mark, null, cause);

        if (Math.Abs(angle.Value.Degrees) >= 44 || (role == SeenRole.Primary && !StandsAlone(shape, side == Side.Left ? _best.EdgeLeft : _best.EdgeRight)))
            return (mark, null, null);
        return (mark, seen, null);
    }

    /// <summary>Why the ridge's top cannot be seen about the reading point, or null where it can.</summary>
    private Reason? TopIsCut(MarkShape shape, Point2 onSheet)
    {
        string word = shape.Side == Side.Left ? "left" : "right";
        int cut = 0;
        int all = 0;
        foreach (RidgePoint p in shape.Ridge.Where(p => Math.Abs(p.YMm - onSheet.Y) <= NearMm))
        {
            all++;
            cut += p.Cut == RidgeCut.Top ? 1 : 0;
        }

        double step = SheetField.StepMm * LaserLight.Coarse;
        int column = (int)Math.Round((onSheet.X - _light.Field.FromX) / step);
        int row = (int)Math.Round((onSheet.Y - _light.Field.FromY) / step);
        bool blocked = _light.IsBlocked(column, row);
        bool away = shape.AtRim && Math.Abs(onSheet.Y - shape.CentreYMm) > FarFromMiddleMm;
        bool off = RunsOff(shape.Side, column, row);
        if (!blocked && !away && !off && 2 * cut <= all)
            return null;
        bool blade = !off && shape.Ridge.Where(p => p.Cut == RidgeCut.Top).Select(p => new Point2(p.XMm, p.YMm)).Append(onSheet).Any(NextToBlade);
        return blade
            ? new($"hidden-{word}", $"The blade, or its holder, stands in front of the edge's mark on the {word}. Move the phone sideways until the mark is in the clear, and take the photo again.")
            : new($"clipped-{word}", $"The edge's mark on the {word} runs off the field or onto a fiducial. Move the target closer, or shift it, so that the mark falls on the plain field.");
    }

    /// <summary>True where the light stays above half of the reading point's all the way out to the rim or a fiducial: what lies beyond may be more of the mark.</summary>
    private bool RunsOff(Side side, int column, int row)
    {
        if (_light.IsBlocked(column, row))
            return false;
        double level = 0.5 * _light.Smooth[(row * _light.Width) + column];
        int outward = side == Side.Left ? -1 : 1;
        while (!_light.IsBlocked(column, row))
        {
            if (_light.Smooth[(row * _light.Width) + column] < level)
                return false;
            column += outward;
        }

        return column < 0 || column >= _light.Width || !_light.IsBlade(column, row);
    }

    /// <summary>
    /// A wide mark whose top is burnt out: whether it is one curved facet or two that run into each other, and where its middle lies, is lost.
    /// </summary>
    private Reason? Smeared(MarkShape shape)
    {
        double wide = shape.AcrossDeg(_frame.DistanceMm);
        bool lost = (wide > BurntWideDeg && shape.Clipped > MostlyBurnt && shape.RoughDeg < BurntNearDeg) || (wide > MarkRoles.WidestDeg && shape.Clipped > PartlyBurnt);
        return !lost ? null : new($"burnt-out-{(shape.Side == Side.Left ? "left" : "right")}", FormattableString.Invariant($"The edge's mark on the {(shape.Side == Side.Left ? "left" : "right")} is burnt out over {100 * shape.Clipped:0} % of its brighter half and some {2.4 * wide:0.0}° wide, so its middle, or whether two facets run into one, cannot be told. Take a dark photo with a shorter exposure, until the mark is no longer white."));
    }

    private bool NextToBlade(Point2 at)
    {
        double step = SheetField.StepMm * LaserLight.Coarse;
        int column = (int)Math.Round((at.X - _light.Field.FromX) / step);
        int row = (int)Math.Round((at.Y - _light.Field.FromY) / step);
        for (int c = Math.Max(0, column - 3); c <= Math.Min(_light.Width - 1, column + 3); c++)
        {
            if (row >= 0 && row < _light.Height && _light.IsBlade(c, row))
                return true;
        }

        return false;
    }

    /// <summary>
    /// A primary's mark tells the roll only where it is parted from the bare beam and from the other side's, and carries the light of the wide
    /// grind that it is: a faint splinter of it would not.
    /// </summary>
    private static bool StandsAlone(MarkShape shape, MarkShape? edge) =>
        shape.Blob.Saddle < 0.5 * shape.Blob.Peak && shape.RoughDeg > 1.2 && shape.Flux > 0.5 * (edge?.Flux ?? 0);
}
