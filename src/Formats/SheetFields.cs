using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats;

/// <summary>What target.json and mat.json have in common: paper, size, fiducials, the printer's scale.</summary>
internal static class SheetFields
{
    /// <summary>How few fiducials still fix a sheet in a picture.</summary>
    internal const int FewestFiducials = 4;

    private const double LargestSheetMm = 5000;

    internal static string Paper(FieldReader root) => root.Text("paper") ?? "";

    internal static Vector2? Size(FieldReader root)
    {
        IReadOnlyList<double> size = root.Numbers("sizeMm", Limits.PositiveTo(LargestSheetMm), "mm");
        if (size.Count == 2)
            return new(size[0], size[1]);
        root.Fault("sizeMm", "width and height of the sheet [297, 210], mm, would be right");
        return null;
    }

    internal static PrintScale? Print(FieldReader root)
    {
        if (!root.Has("printScale"))
            return null;
        IReadOnlyList<double> print = root.Numbers("printScale", new Limits(0.9, 1.1));
        if (print.Count == 2)
            return new(print[0], print[1]);
        root.Fault("printScale", "two numbers [across, down] from 0.9 to 1.1, measured check line over 100 mm, would be right");
        return null;
    }

    internal static void Dictionary(FieldReader root) => root.RequiredWord("fiducialDictionary", KnownFiducials.Dictionary);

    internal static IReadOnlyList<SheetFiducial> Fiducials(FieldReader root, Vector2? size)
    {
        List<SheetFiducial> found = [];
        IReadOnlyList<FieldReader> all = root.Objects("fiducials", "id", "cornersMm");
        foreach (FieldReader one in all)
        {
            if (Fiducial(one, size, found) is { } fiducial)
                found.Add(fiducial);
        }

        if (all.Count < FewestFiducials)
            root.Fault("fiducials", "four fiducials or more would be right, each { id, cornersMm:[[x, y] × 4] }");
        return found;
    }

    internal static void Write(Utf8JsonWriter json, IReadOnlyList<SheetFiducial> fiducials, PrintScale? print)
    {
        json.WriteString("fiducialDictionary", KnownFiducials.Dictionary);
        json.List("fiducials", fiducials, f =>
        {
            json.WriteNumber("id", f.Id);
            json.Points("cornersMm", f.CornersMm);
        });
        if (print is { } scale)
            json.Pair("printScale", scale.Across, scale.Down);
    }

    private static SheetFiducial? Fiducial(FieldReader one, Vector2? size, List<SheetFiducial> before)
    {
        double? id = one.Number("id", new Limits(0, KnownFiducials.Count - 1));
        if (id is null || id != Math.Floor(id.Value))
        {
            one.Fault("id", "a whole number from 0 to 49 would be right");
            return null;
        }

        if (before.Exists(f => f.Id == (int)id.Value))
            one.Fault("id", "this id stands on the sheet already; every id once would be right");
        IReadOnlyList<Point2> corners = one.PointsMm("cornersMm") ?? [];
        if (corners.Count != 4)
        {
            one.Fault("cornersMm", "four corners [[x, y] × 4], clockwise from its own top left, would be right");
            return null;
        }

        for (int i = 0; i < 4; i++)
        {
            Vector2 side = corners[(i + 1) % 4] - corners[i];
            Vector2 next = corners[(i + 2) % 4] - corners[(i + 1) % 4];
            if (!(side.Cross(next) > 0))
            {
                one.Fault("cornersMm", "corners of a square, clockwise from its own top left as the sheet is read (y down), would be right");
                return null;
            }
        }

        if (size is { } s && corners.Any(c => c.X < 0 || c.Y < 0 || c.X > s.X || c.Y > s.Y))
            one.Fault("cornersMm", FormattableString.Invariant($"a corner lies off the sheet; 0 to {s.X} across and 0 to {s.Y} down would be right"));
        return new((int)id.Value, corners);
    }
}
