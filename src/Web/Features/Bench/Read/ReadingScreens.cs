using Whetwright.Core.Blades;
using Whetwright.Records.Bench;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>A reading to show: what it says and the photos it was seen in.</summary>
/// <param name="Fact">The fact.</param>
/// <param name="Said">What it says.</param>
/// <param name="Photos">Marks in photographs; null for one read by eye.</param>
public sealed record ShownReading(Reading Fact, StoredReading Said, MarksInPhotos? Photos)
{
    /// <summary>The reading of a purpose that counts; null for none.</summary>
    public static ShownReading? Of(BenchVisit visit, ReadingPurpose purpose) =>
        visit.ReadingFor(purpose) is { } fact ? new(fact, StoredReading.Of(fact), StoredReading.Photos(fact)) : null;
}

/// <summary>The step Read.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Reading">What was read; null for nothing yet.</param>
/// <param name="Conflict">What another tab saved meanwhile, in words; null for nothing.</param>
public sealed record ReadScreen(BenchVisit Visit, ShownReading? Reading, string? Conflict = null) : BenchScreen(Visit, BenchStep.Read)
{
    /// <summary>The blade as it is known; why not where it is not.</summary>
    public Composed<Blade> Blade { get; } = BladeOnBench.Compose(Visit.Piece, Visit.Outlines, Visit.Sections);
}

/// <summary>What reading for a purpose has to do with the steps.</summary>
internal static class ReadingSteps
{
    public static BenchStep Step(this ReadingPurpose purpose) => purpose == ReadingPurpose.Found ? BenchStep.Read : BenchStep.Check;

    public static ReadingPurpose Purpose(this BenchStep step) => step == BenchStep.Check ? ReadingPurpose.Check : ReadingPurpose.Found;
}
