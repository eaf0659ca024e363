using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats;

/// <summary>target.json: any printed target, ours or another's. Described in docs/formats/target.schema.json.</summary>
public static class TargetFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
        ["paper", "sizeMm", "zeroMm", "spotFieldMm", "distanceMm", "fiducialDictionary", "fiducials", "printScale"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<TargetSheet> Read(string json) => FieldReader.Document(json, Keys, From);

    /// <summary>The file's text.</summary>
    public static string Text(TargetSheet sheet) => JsonResults.Document(json => Write(json, sheet));

    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, TargetSheet sheet)
    {
        json.WriteString("paper", sheet.Paper);
        json.Pair("sizeMm", sheet.SizeMm.X, sheet.SizeMm.Y);
        json.Pair("zeroMm", sheet.ZeroMm.X, sheet.ZeroMm.Y);
        json.WritePropertyName("spotFieldMm");
        json.WriteStartArray();
        foreach (double value in (double[])[sheet.SpotFieldMm.LeftMm, sheet.SpotFieldMm.TopMm, sheet.SpotFieldMm.RightMm, sheet.SpotFieldMm.BottomMm])
            json.Item(value);
        json.WriteEndArray();
        json.Number("distanceMm", sheet.DistanceMm);
        SheetFields.Write(json, sheet.Fiducials, sheet.PrintScale);
    }

    internal static TargetSheet? From(FieldReader root)
    {
        Vector2? size = SheetFields.Size(root);
        Point2? zero = Zero(root, size);
        SheetRectangle? field = Field(root, size);
        double distance = root.RequiredLengthMm("distanceMm", new Limits(5, 5000));
        SheetFields.Dictionary(root);
        IReadOnlyList<SheetFiducial> fiducials = SheetFields.Fiducials(root, size);
        PrintScale? print = SheetFields.Print(root);
        return size is not { } s || zero is not { } z || field is not { } f || !double.IsFinite(distance)
            ? null
            : new TargetSheet
            {
                Paper = SheetFields.Paper(root), SizeMm = s, ZeroMm = z, SpotFieldMm = f, DistanceMm = distance, Fiducials = fiducials, PrintScale = print,
            };
    }

    private static Point2? Zero(FieldReader root, Vector2? size)
    {
        IReadOnlyList<double> zero = root.Numbers("zeroMm", Limits.NotNegative, "mm");
        if (zero.Count == 2 && (size is not { } s || (zero[0] <= s.X && zero[1] <= s.Y)))
            return new(zero[0], zero[1]);
        root.Fault("zeroMm", "a point on the sheet [x, y], mm from its top left, would be right");
        return null;
    }

    private static SheetRectangle? Field(FieldReader root, Vector2? size)
    {
        IReadOnlyList<double> f = root.Numbers("spotFieldMm", Limits.NotNegative, "mm");
        if (f.Count == 4 && f[0] < f[2] && f[1] < f[3] && (size is not { } s || (f[2] <= s.X && f[3] <= s.Y)))
            return new(f[0], f[1], f[2], f[3]);
        root.Fault("spotFieldMm", "a rectangle on the sheet [left, top, right, bottom], mm from its top left, would be right");
        return null;
    }
}
