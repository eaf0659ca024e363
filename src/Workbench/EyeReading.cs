using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>Marks read by eye to a reading.</summary>
public static class EyeReading
{
    /// <summary>Combines the marks of a document in our marks format.</summary>
    /// <param name="marksJson">Our marks format.</param>
    /// <param name="instrumentJson">Our instrument format; null for the labelled defaults.</param>
    /// <param name="result">The reading, when it could be combined (a refusal is a reading too).</param>
    /// <param name="faults">Otherwise what is wrong, each naming its field.</param>
    public static bool TryRead(string marksJson, string? instrumentJson, out CombinedReading? result, out IReadOnlyList<string> faults)
    {
        result = null;
        Instrument? instrument = null;
        if (instrumentJson is not null)
        {
            if (InstrumentFormat.Read(instrumentJson) is FormatOutcome<Instrument>.Read known)
            {
                instrument = known.Value;
            }
            else
            {
                faults = ["Instrument: its stored description cannot be read; calibrate it again in Kit."];
                return false;
            }
        }

        switch (MarksFormat.Read(marksJson))
        {
            case FormatOutcome<BenchMarks>.Refused refused:
                faults = [.. refused.Errors.Select(e => e.ToString()!)];
                return false;
            case FormatOutcome<BenchMarks>.Read read:
                try
                {
                    result = BenchReading.Combine(read.Value with { Instrument = instrument });
                    faults = [];
                    return true;
                }
                catch (ArgumentException e)
                {
                    faults = [Faults.Plain(e)];
                    return false;
                }

            default:
                throw new InvalidOperationException("Not a member of the closed set.");
        }
    }

    /// <summary>The reading as a fact to store.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="inputsJson">All that went in.</param>
    /// <param name="method">Name and version, as in <c>optics.bevel-from-mark/1</c>.</param>
    /// <param name="about">Visit, purpose, mounts and times; its result fields are filled here.</param>
    public static Reading ToFact(CombinedReading reading, string inputsJson, string method, ReadingAbout about)
    {
        int slash = method.LastIndexOf('/');
        return new()
        {
            VisitId = about.VisitId,
            Purpose = about.Purpose,
            MountIds = [.. about.MountIds],
            HappenedAt = about.HappenedAt,
            EnteredAt = about.EnteredAt,
            CorrectsId = about.CorrectsId,
            EnteredBy = about.EnteredBy,
            Method = slash < 0 ? method : method[..slash],
            MethodVersion = slash < 0 ? "1" : method[(slash + 1)..],
            InputsJson = inputsJson,
            ResultJson = JsonResults.Document(json => ReadingResult.Write(json, reading)),
            Outcome = ReadingResult.Word(reading.Outcome),
            IncludedDeg = reading.Included?.Value.Degrees,
            IncludedUDeg = reading.Included?.StandardUncertainty.Degrees,
            LeftDeg = Of(reading, Side.Left)?.Value.Degrees,
            LeftUDeg = Of(reading, Side.Left)?.StandardUncertainty.Degrees,
            RightDeg = Of(reading, Side.Right)?.Value.Degrees,
            RightUDeg = Of(reading, Side.Right)?.StandardUncertainty.Degrees,
        };
    }

    private static MeasuredAngle? Of(CombinedReading reading, Side blade) => reading.Sides.FirstOrDefault(s => s.Blade == blade)?.Edge;
}

/// <summary>What a reading is about.</summary>
/// <param name="VisitId">The visit.</param>
/// <param name="Purpose">Found or check.</param>
/// <param name="MountIds">Mounts it rests on.</param>
/// <param name="HappenedAt">When read, UTC.</param>
/// <param name="EnteredAt">When entered, UTC.</param>
/// <param name="CorrectsId">The reading it takes the place of.</param>
/// <param name="EnteredBy">A device or program; null for a person at the machine.</param>
public sealed record ReadingAbout(long VisitId, ReadingPurpose Purpose, IReadOnlyList<long> MountIds, DateTime HappenedAt, DateTime EnteredAt, long? CorrectsId = null, string? EnteredBy = null);
