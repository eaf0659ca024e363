using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats;

/// <summary>mat.json: any printed mat, or several sheets joined in one frame. Described in docs/formats/mat.schema.json.</summary>
public static class MatFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["paper", "sizeMm", "fiducialDictionary", "fiducials", "printScale"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<MatSheet> Read(string json) => FieldReader.Document(json, Keys, From);

    /// <summary>The file's text.</summary>
    public static string Text(MatSheet sheet) => JsonResults.Document(json => Write(json, sheet));

    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, MatSheet sheet)
    {
        json.WriteString("paper", sheet.Paper);
        json.Pair("sizeMm", sheet.SizeMm.X, sheet.SizeMm.Y);
        SheetFields.Write(json, sheet.Fiducials, sheet.PrintScale);
    }

    internal static MatSheet? From(FieldReader root)
    {
        Vector2? size = SheetFields.Size(root);
        SheetFields.Dictionary(root);
        IReadOnlyList<SheetFiducial> fiducials = SheetFields.Fiducials(root, size);
        PrintScale? print = SheetFields.Print(root);
        return size is { } s ? new MatSheet { Paper = SheetFields.Paper(root), SizeMm = s, Fiducials = fiducials, PrintScale = print } : null;
    }
}
