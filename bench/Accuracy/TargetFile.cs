using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Accuracy;

internal static class TargetFile
{
    public static TargetSheet Read(string path)
    {
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(path));
        JsonElement root = json.RootElement;
        JsonElement field = root.GetProperty("spotFieldMm");
        return new()
        {
            Paper = root.GetProperty("paper").GetString() ?? "",
            SizeMm = new(root.GetProperty("sizeMm")[0].GetDouble(), root.GetProperty("sizeMm")[1].GetDouble()),
            ZeroMm = Point(root.GetProperty("zeroMm")),
            SpotFieldMm = new(field[0].GetDouble(), field[1].GetDouble(), field[2].GetDouble(), field[3].GetDouble()),
            DistanceMm = root.GetProperty("distanceMm").GetDouble(),
            Fiducials = [.. root.GetProperty("fiducials").EnumerateArray().Select(f => new SheetFiducial(
                f.GetProperty("id").GetInt32(), [.. f.GetProperty("cornersMm").EnumerateArray().Select(Point)]))],
        };
    }

    private static Point2 Point(JsonElement e) => new(e[0].GetDouble(), e[1].GetDouble());
}
