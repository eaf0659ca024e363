using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats;

/// <summary>instrument.json: target, distance and zero as calibrated. Described in docs/formats/instrument.schema.json.</summary>
public static class InstrumentFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } =
        ["distanceMm", "distanceUMm", "zeroMm", "zeroUMm", "printScale", "printScaleU", "holderRollDeg", "scatterDeg", "date"];

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<Instrument> Read(string json) => FieldReader.Document(json, Keys, From);

    /// <summary>Writes the fields into an open object.</summary>
    public static void Write(Utf8JsonWriter json, Instrument instrument)
    {
        json.Number("distanceMm", instrument.Distance.Value.Millimetres);
        json.Number("distanceUMm", instrument.Distance.StandardUncertainty.Millimetres);
        json.Number("zeroMm", instrument.Zero.Value.Millimetres);
        json.Number("zeroUMm", instrument.Zero.StandardUncertainty.Millimetres);
        if (instrument.PrintScale is { } scale)
            json.Pair("printScale", scale.Across, scale.Down);
        else
            json.WriteNull("printScale");
        if (instrument.PrintScaleU is { } printU)
            json.Number("printScaleU", printU);
        json.Number("holderRollDeg", instrument.HolderRoll?.Degrees);
        json.Number("scatterDeg", instrument.Scatter?.Degrees);
        json.WriteString("date", instrument.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
    }

    internal static Instrument? From(FieldReader root)
    {
        double distance = root.RequiredLengthMm("distanceMm", new Limits(5, 5000));
        double distanceU = root.LengthMm("distanceUMm", Limits.NotNegative) ?? distance * ReadingAssumptions.Default.DistanceRelativeUncertainty;
        double zero = root.LengthMm("zeroMm", Limits.Any) ?? 0;
        double zeroU = root.LengthMm("zeroUMm", Limits.NotNegative) ?? distance * ReadingAssumptions.Default.ZeroRelativeUncertainty;
        IReadOnlyList<double> print = root.Numbers("printScale", new Limits(0.9, 1.1));
        if (root.Has("printScale") && print.Count != 2)
            root.Fault("printScale", "two numbers [across, down] from 0.9 to 1.1, true millimetres per printed millimetre, would be right");
        double? printU = root.Number("printScaleU", new Limits(0, 0.1));
        double? roll = root.AngleDeg("holderRollDeg", new Limits(-45, 45));
        double? scatter = root.AngleDeg("scatterDeg", new Limits(0, 20));
        DateOnly? date = root.Day("date");
        return !double.IsFinite(distance) ? null : new(MeasuredLength.FromMillimetres(distance, distanceU), MeasuredLength.FromMillimetres(zero, zeroU))
        {
            PrintScale = print.Count == 2 ? new PrintScale(print[0], print[1]) : null,
            PrintScaleU = printU,
            HolderRoll = roll is { } r ? Angle.FromDegrees(r) : null,
            Scatter = scatter is { } s ? Angle.FromDegrees(s) : null,
            Date = date,
        };
    }
}
