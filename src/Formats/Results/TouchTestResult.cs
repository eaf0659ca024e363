using System.Text.Json;
using Whetwright.Core.PenTest;
using Whetwright.Formats.Writing;

namespace Whetwright.Formats.Results;

/// <summary>What <c>touch</c> writes. Described in docs/formats/touch-result.schema.json.</summary>
public static class TouchTestResult
{
    /// <summary>Writes a forecast into an open object.</summary>
    public static void Write(Utf8JsonWriter json, TouchForecast forecast)
    {
        json.WriteString("firstTouch", Word(forecast.FirstTouch));
        json.Pair("bandMm", forecast.Band.FromMm, forecast.Band.ToMm);
        if (forecast.SecondBand is { } second)
            json.Pair("secondBandMm", second.FromMm, second.ToMm);
        else
            json.WriteNull("secondBandMm");
        json.Reasons(forecast.Notes);
    }

    /// <summary>Writes what a band seen says into an open object.</summary>
    public static void Write(Utf8JsonWriter json, TouchFinding.Off off)
    {
        json.Pair("offDeg", off.FromDeg, off.ToDeg);
        json.WriteString("advice", off.Advice);
    }

    /// <summary>Where it touches first, in files and on screens.</summary>
    public static string Word(FirstTouch touch) => touch switch
    {
        FirstTouch.Apex => "apex",
        FirstTouch.Shoulder => "shoulder",
        FirstTouch.Inside => "inside",
        _ => "everywhere",
    };
}
