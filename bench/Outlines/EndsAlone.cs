using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>
/// The ends of the edge alone: the blade as the program finds it, its side from the truth, a scene left out where either rough end is more than
/// 4 mm off. Signed errors of heel and tip as seen: along the edge (positive: beyond the true end) and across it (positive: outside).
/// </summary>
internal static class EndsAlone
{
    private const double RoughMm = 4;
    private static readonly List<(double Outline, double Lit, double Scatter, double Doubt)> s_faces = [];
    private static readonly List<double> s_spines = [];
    private static readonly List<double> s_patch = [], s_pull = [];

    public static void Run(string root, IReadOnlyList<string> folders, string? kept, string? pictures)
    {
        var heels = new List<double>();
        var tips = new List<double>();
        var lengths = new List<double>();
        var surely = new List<double>();
        foreach (string folder in folders)
        {
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            if (One(root, folder, "photo.jpg", truth.RootElement, truth.RootElement.GetProperty("camera"), kept, pictures) is not { } r)
                continue;
            heels.Add(r.Heel);
            tips.Add(r.Tip);
            lengths.Add(r.Length);
            surely.Add(r.Length / r.U);
        }

        string Of(List<double> v) => string.Create(CultureInfo.InvariantCulture, $"median {At(v, 0.5):0.00}, |median| {At([.. v.Select(Math.Abs)], 0.5):0.00}, |p90| {At([.. v.Select(Math.Abs)], 0.9):0.00}, {v.Count(e => Math.Abs(e) <= 0.2)}/{v.Count(e => Math.Abs(e) <= 0.4)} of {v.Count} within 0.2/0.4");
        Console.WriteLine($"faces {Of([.. s_faces.Select(f => f.Outline)])}\nlit   {Of([.. s_faces.Select(f => f.Lit)])}");
        Console.WriteLine($"spine  {Of(s_spines)}");
        Console.WriteLine($"patch  {Of(s_patch)}; over u: {Of(s_pull)}");
        Console.WriteLine($"heel   {Of(heels)}\ntip    {Of(tips)}\nlength {Of(lengths)}; within 2u {surely.Count(e => Math.Abs(e) < 2)}");
    }

    private static double At(List<double> v, double q) => v.Count == 0 ? double.NaN : v.Order().ElementAt(Math.Min(v.Count - 1, (int)(q * v.Count)));

    private static List<Point2> Points(JsonElement e) => [.. e.EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))];

    private static (double Heel, double Tip, double Length, double U)? One(string root, string folder, string name, JsonElement truth, JsonElement camera, string? kept, string? pictures)
    {
        string what = Path.GetFileName(folder);
        MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
        using Picture photo = Picture.Read(Path.Combine(folder, name));
        IReadOnlyList<SheetFiducial> fiducials = OutlineView.Printed(mat);
        if (SheetFinder.Find(photo, fiducials).Sheet is not { } sheet || MatCamera.From(sheet, photo.WidthPx, photo.HeightPx, null) is not { } stood)
            return null;
        double[] place = [.. camera.GetProperty("positionMm").EnumerateArray().Select(v => v.GetDouble())];
        JsonElement height = truth.GetProperty("edgeHeight");
        (double zHeel, double zTip) = (height.GetProperty("atHeelMm").GetDouble(), height.GetProperty("atTipMm").GetDouble());
        Point2 As(Point2 p, double z) => p + ((p - new Point2(place[0], place[1])) * (z / (place[2] - z)));
        List<Point2> nominal = Points(truth.GetProperty("edgeNominalMm"));
        List<Point2> seen = [.. nominal.Select((p, i) => As(p, zHeel + ((zTip - zHeel) * i / (nominal.Count - 1))))];
        Vector2 chord = nominal[^1] - nominal[0];
        List<Point2> outline = [.. Points(truth.GetProperty("outlineMm")).Select(p => As(p, zHeel + ((zTip - zHeel) * (p - nominal[0]).Dot(chord) / chord.Dot(chord))))];
        PhotoSampler sampler = PhotoSampler.Around(photo, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        double blur = Sharpness.Of(sampler, sheet).SigmaPx;
        KnownHeight known = KnownHeight.Told(Math.Round((zHeel + zTip) / 2, 1));
        if (Found.Of(photo, sheet, mat, sampler, stood, blur, known, seen, kept is null ? null : Path.Combine(kept, what + ".json")) is not { } found)
        {
            Console.WriteLine($"{what,-15} not found");
            return null;
        }

        Point2[] inOrder = found.InOrder;
        sampler = sampler.With(RuledInk.Around(sampler, sheet.Map, inOrder));
        if (inOrder[found.HeelAt].DistanceTo(seen[0]) > RoughMm || inOrder[found.TipAt].DistanceTo(seen[^1]) > RoughMm)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-15} rough ends {inOrder[found.HeelAt].DistanceTo(seen[0]):0.0} {inOrder[found.TipAt].DistanceTo(seen[^1]):0.0} mm off"));
            return null;
        }

        SmoothEdge edge = SmoothEdge.Of(inOrder, found.HeelAt, found.TipAt, found.Cornered);
        var band = new PaperBand(sampler, sheet.Map, found.HasHandle);
        HeelFace? face = BareSteel.Face(edge, inOrder, found.HeelAt, band);
        Point2[] line = found.Line;
        var ends = new LitEnds(sampler, sheet.Map, blur, found.PixelMm, stood, face, inOrder, found.HeelAt, found.TipAt);
        EndedLine endedLine = ends.Of(line, found.Light.Length == 0 ? null : EdgeLight.FromRow(found.Light), known);
        Point2[] ended = endedLine.Line;
        SideLine? lit = ends.Heel;

        (double heelAlong, double heelAcross) = Off(ended[0], seen[0], seen[0] - seen[12], edge.Outward);
        (double tipAlong, double tipAcross) = Off(ended[^1], seen[^1], seen[^1] - seen[^12], edge.Outward);
        double length = ended[0].DistanceTo(ended[^1]) - seen[0].DistanceTo(seen[^1]);
        Vector2 trueFace = outline[^1] - outline[0];
        string faceWords = "no face", litWords = "";
        if (face is { } g)
        {
            // How far the found face lies beyond the true heel, and its turn.
            Vector2 beyond = (seen[0] - seen[12]).Normalized();
            double s = (g.Line.At - seen[0]).Cross(g.Line.Direction) / beyond.Cross(g.Line.Direction);
            double turn = double.RadiansToDegrees(Math.Asin(Math.Clamp(g.Line.Direction.Cross(Unit(trueFace)), -1, 1)));
            double s2 = lit is { } m ? (m.Line.At - seen[0]).Cross(m.Line.Direction) / beyond.Cross(m.Line.Direction) : double.NaN;
            double turn2 = lit is { } m2 ? double.RadiansToDegrees(Math.Asin(Math.Clamp(m2.Line.Direction.Cross(Unit(trueFace)), -1, 1))) : 0;
            litWords = lit is not { } q ? "" : string.Create(CultureInfo.InvariantCulture, $"lit {s2:0.00} turned {turn2:0.0} scatter {q.ScatterMm:0.00} doubt {q.DoubtMm:0.00} z {q.Light.HeelMm:0.0} sky {q.Light.Sky:0.00} ") + string.Join(' ', q.Light.Lamps.Select(v => string.Create(CultureInfo.InvariantCulture, $"[{v.Share:0.00} lean {v.Lean:0.00}]")));
            if (lit is { } q2 && Math.Abs(s) < 3)
                s_faces.Add((s, s2, q2.ScatterMm, q2.DoubtMm));
            faceWords = string.Create(CultureInfo.InvariantCulture, $"face {s:0.00} turned {turn:0.0} scatter {g.ScatterMm:0.00}");
        }

        Vector2 spine = outline[Math.Min(outline.Count - 1, nominal.Count + 4)] - outline[Math.Min(outline.Count, nominal.Count) - 1];
        double wedge = double.RadiansToDegrees(Math.Acos(Math.Clamp((seen[^12] - seen[^1]).Normalized().Dot(Unit(spine)), -1, 1)));
        if (ends.Tip.Spine is { } sp)
        {
            // How far along the edge the lit spine would put the tip, the edge's own error left out.
            Vector2 beyond = (seen[^1] - seen[^12]).Normalized();
            double s3 = (sp.Line.At - seen[^1]).Cross(sp.Line.Direction) / beyond.Cross(sp.Line.Direction);
            litWords += string.Create(CultureInfo.InvariantCulture, $" spine {s3:0.00} scatter {sp.ScatterMm:0.00} doubt {sp.DoubtMm:0.00} z {sp.Light.HeelMm:0.0}");
            s_spines.Add(s3);
        }

        if (ends.Corner is { } corner)
        {
            (double a, double c) = Off(corner.Place, seen[0], seen[0] - seen[12], edge.Outward);
            litWords = string.Create(CultureInfo.InvariantCulture, $"CORNER {a:0.00} {c:0.00} u {corner.UMm:0.00} misfit {corner.MisfitShare:0.000} side {corner.ShowsItsSide} fv {corner.FaceView:0.00} len {face?.PathMm[0].DistanceTo(face.Value.PathMm[^1]) ?? 0:0.0} angle {double.RadiansToDegrees(corner.Best.Shape.AngleRad):0} ") + litWords;
        }

        if (ends.Tip.Seen is { } tip)
        {
            (double a, double c) = Off(tip.Place, seen[^1], seen[^1] - seen[^12], edge.Outward);
            TipShape b = tip.Best.Shape;
            litWords = string.Create(CultureInfo.InvariantCulture, $"patch {a:0.00} {c:0.00} u {tip.UMm:0.00} face {tip.FaceView:0.00} misfit {tip.MisfitShare:0.000} angle {double.RadiansToDegrees(b.AngleRad):0} bevel {b.BevelMm:0.00} cost {tip.Best.Cost:0.0} t {b.TipMm:0.00} e {b.EdgeMm:0.00} bend {b.SpineBend:0.000} blur {b.Blur:0.00} tones {string.Join(" ", tip.Best.Tones.Select(v => v.ToString("0.00", CultureInfo.InvariantCulture)))} lamps {string.Join(' ', b.Lamps.Select(l => $"[{l.U:0.00} {l.V:0.00} ±{l.WidthMm:0.00}]"))} ") + litWords;
            s_patch.Add(a);
            s_pull.Add(a / tip.UMm);
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-15} heel {heelAlong,5:0.00} {heelAcross,5:0.00} u {endedLine.HeelUMm:0.00}  tip {tipAlong,5:0.00} {tipAcross,5:0.00}  length {length,5:0.00}  {faceWords,-38} wedge {wedge,3:0}  px {found.PixelMm:0.00} blur {blur:0.00} z {zHeel:0.0}/{zTip:0.0} {truth.GetProperty("finish").GetString(),-8} {truth.GetProperty("handle").GetString(),-5} {truth.GetProperty("shape").GetString()} {litWords}"));
        if (pictures is not null)
            EndsPicture.Write(Path.Combine(pictures, what + ".png"), photo, sheet, seen, outline, inOrder, ended, face);
        return (heelAlong, tipAlong, length, 1);
    }

    private static Vector2 Unit(Vector2 v) => v.Norm > 0 ? v.Normalized() : new(1, 0);

    private static (double Along, double Across) Off(Point2 got, Point2 truth, Vector2 beyond, Vector2 outward)
    {
        Vector2 x = beyond.Normalized();
        Vector2 y = new(-x.Y, x.X);
        if (y.Dot(outward) < 0)
            y *= -1;
        return ((got - truth).Dot(x), (got - truth).Dot(y));
    }
}
